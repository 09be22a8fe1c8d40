import {
  CodeActionKind,
  type AnnotatedTextEdit,
  type ChangeAnnotation,
  type Connection,
  type TextDocumentEdit,
  type TextEdit,
  type WorkspaceEdit,
} from "vscode-languageserver";
import { capital } from "../../core/base/capital.ts";
import { baseName } from "../../core/base/path.ts";
import type { FileId } from "../../core/base/span.ts";
import type { TextEdits } from "../../core/edit/apply-edits.ts";
import type { ActionSource } from "./action-source.ts";
import { workspaceNames } from "../neighbours.ts";
import {
  commentsInFull,
  commentsInShort,
  formatChange,
  formatOffer,
  isAtHead,
  type FormatChange,
  type FormatOffer,
} from "../service/rewrites/format-change.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { tell } from "../tell.ts";
import { toTextEdits } from "../to-lsp.ts";

/** A client may ask for this kind by its name, wherever the cursor is. */
export const CONVERT_KIND = `${CodeActionKind.RefactorRewrite}.convert`;

/** Where the comments that get lost are told, so that a person says yes or no to that. */
const COMMENTS = "comments";

/**
 * A document of the other format in place of this one: a new file, the old one deleted, and each name of it in other documents
 * changed; one edit.
 */
export function createConversions(connection: Connection, session: Session): ActionSource<"convert"> {
  const { client, texts } = session;

  const refusalOf = async ({ refusal, target }: FormatOffer): Promise<string | undefined> => {
    if (!client.changesFiles) return "this editor cannot create and delete files in one edit";
    if (refusal !== undefined) return refusal;
    await texts.load([target]);
    const { state } = texts.read(target);
    if (state === "outside") return `\`${baseName(target)}\` would be outside of the open folders`;
    return state === "missing" ? undefined : `\`${baseName(target)}\` is there already: rename or delete it first`;
  };

  const titleOf = ({ title, format, lost }: FormatOffer): string => {
    if (lost.length === 0) return title;
    return client.annotatesChanges
      ? `${title}: asks first about ${commentsInShort(lost)} that ${format} cannot hold`
      : `${title} without its ${commentsInShort(lost)}`;
  };

  const changesOf = (file: FileId, edits: TextEdits): TextDocumentEdit[] => {
    const document = texts.document(file);
    if (!document) return [];
    const version = texts.version(file) ?? null;
    return [{ textDocument: { uri: texts.uri(file), version }, edits: toTextEdits(document, edits) }];
  };

  const editOf = (view: View, { target, format }: FormatOffer, change: FormatChange): WorkspaceEdit => {
    const { text, lost, references } = change;
    const [from, to] = [texts.uri(view.file), texts.uri(target)];
    const asks = client.annotatesChanges && lost.length > 0;
    const annotation = asks ? { annotationId: COMMENTS } : {};
    const start = { line: 0, character: 0 };
    const whole: TextEdit | AnnotatedTextEdit = { range: { start, end: start }, newText: text, ...annotation };
    const annotations: Record<string, ChangeAnnotation> = {
      [COMMENTS]: {
        label: `Comments that ${format} cannot hold`,
        needsConfirmation: true,
        description: commentsInFull(view.text, lost),
      },
    };
    return {
      documentChanges: [
        { kind: "create", uri: to, options: { overwrite: false, ignoreIfExists: false }, ...annotation },
        { textDocument: { uri: to, version: null }, edits: [whole] },
        ...[...references].flatMap(([file, edits]) => changesOf(file, edits)),
        { kind: "delete", uri: from, options: { ignoreIfNotExists: false }, ...annotation },
      ],
      ...(asks ? { changeAnnotations: annotations } : {}),
    };
  };

  return {
    async actions({ view, span, wants, only }) {
      const isNamed = only?.some((kind) => kind === CONVERT_KIND) === true;
      if (!wants(CONVERT_KIND) || !(isNamed || isAtHead(view, span))) return [];
      const offer = formatOffer(view);
      const refusal = await refusalOf(offer);
      const action = { title: titleOf(offer), kind: CONVERT_KIND };
      if (refusal === undefined) return [{ action, ref: "convert" }];
      const disabled = { reason: `${capital(refusal)}.` };
      return client.showsDisabledActions ? [{ action: { ...action, title: offer.title, disabled } }] : [];
    },
    async edit(view, _ref, tells) {
      const offer = formatOffer(view);
      const names = await workspaceNames(session);
      const refusal = await refusalOf(offer);
      const textOf = (file: FileId) => texts.document(file)?.getText();
      const made = refusal === undefined ? formatChange(view, names, textOf) : { refusal };
      if (!("refusal" in made)) return editOf(view, offer, made);
      if (tells === "tells") {
        tell(connection, session, `"${offer.title}" was not done: ${made.refusal}.`);
      }
      return undefined;
    },
  };
}
