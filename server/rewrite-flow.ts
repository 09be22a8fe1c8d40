import { CodeActionKind, type CodeAction, type Connection, type WorkspaceEdit } from "vscode-languageserver";
import type { TextCure } from "../core/base/problem.ts";
import type { FileId, Span } from "../core/base/span.ts";
import type { Rewriting } from "../core/edit/field-edits.ts";
import { provenEdits, rewritesAt, type Rewrite } from "./service/rewrites.ts";
import type { View } from "./service/view.ts";
import type { Session } from "./session.ts";

/** What finds a rewrite again when its edit is asked for. */
export interface RewriteRef {
  readonly id: string;
  readonly span: Span;
}

/** An action, and how it is found again; a disabled one has no edit. */
export interface RewriteAction {
  readonly ref: RewriteRef;
  readonly action: CodeAction;
}

export interface Rewrites {
  /** Actions that are offered where `span` begins. */
  actions(view: View, span: Span): readonly RewriteAction[];
  /** The edit of one, once the edited text has been analysed where the action says what stays; else the user is told why not. */
  edit(view: View, ref: RewriteRef, tells: "tells" | "silent"): Promise<WorkspaceEdit | undefined>;
}

/** Other ways to write what stands at the cursor: keys of a move, and quantities of any document. */
export function createRewrites(
  connection: Connection,
  session: Session,
  editOf: (file: FileId, edits: TextCure["edits"]) => WorkspaceEdit | undefined,
): Rewrites {
  // Editors ask at every move of the cursor: what was proven for a text stays so.
  const known = new WeakMap<object, Map<string, Promise<Rewriting>>>();
  const proven = (view: View, rewrite: Rewrite): Promise<Rewriting> => {
    const made = known.get(view.analysis) ?? new Map<string, Promise<Rewriting>>();
    known.set(view.analysis, made);
    const name = JSON.stringify([rewrite.ways, rewrite.proofs]);
    const proving = made.get(name) ?? provenEdits(view, rewrite, (text) => session.analyses.trial(view.file, text));
    made.set(name, proving);
    return proving;
  };
  return {
    actions(view, span) {
      return rewritesAt(view, span)
        .filter(({ disabled }) => disabled === undefined || session.client.showsDisabledActions)
        .map((rewrite) => ({ ref: { id: rewrite.id, span }, action: actionOf(rewrite) }));
    },
    async edit(view, { id, span }, tells) {
      const rewrite = rewritesAt(view, span).find((one) => one.id === id);
      if (!rewrite || rewrite.disabled !== undefined) return undefined;
      const made = await proven(view, rewrite);
      if ("edits" in made) return editOf(view.file, made.edits);
      if (tells === "tells") {
        connection.window.showInformationMessage(`"${rewrite.title}" was not done: ${made.refusal}.`);
      }
      return undefined;
    },
  };
}

function actionOf({ title, disabled }: Rewrite): CodeAction {
  const action = { title, kind: CodeActionKind.RefactorRewrite };
  return disabled === undefined ? action : { ...action, disabled: { reason: disabled } };
}
