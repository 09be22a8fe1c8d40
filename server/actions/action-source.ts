import type { CodeAction, WorkspaceEdit } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { TextCure } from "../../core/base/problem.ts";
import type { FileId, Span } from "../../core/base/span.ts";
import type { View } from "../service/view.ts";

/** Where code actions are asked for. */
export interface ActionPlace {
  readonly view: View;
  readonly document: TextDocument;
  readonly span: Span;
  /** True where actions of a kind are asked for, or of kinds below it. */
  wants(kind: string): boolean;
  /** Kinds that are named by the client; absent where it takes any. */
  readonly only: readonly string[] | undefined;
}

/** An action, and what finds it again when its edit is asked for: plain data. Without that it is whole, or disabled. */
export interface OfferedAction<Ref> {
  readonly action: CodeAction;
  readonly ref?: Ref;
}

/** Whether the user is told why an edit was not made: only one who asked for that very action. */
export type Tells = "tells" | "silent";

/** One sort of code actions. */
export interface ActionSource<Ref> {
  actions(place: ActionPlace): Promise<readonly OfferedAction<Ref>[]>;
  /** The edit of an action that was offered; `undefined` where there is none after all. */
  edit(view: View, ref: Ref, tells: Tells): Promise<WorkspaceEdit | undefined>;
}

/** Edits of one document's text as the client takes them. */
export type EditOf = (file: FileId, edits: TextCure["edits"]) => WorkspaceEdit | undefined;
