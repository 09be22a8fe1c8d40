import type { Connection } from "vscode-languageserver";
import { capital } from "../../core/base/capital.ts";
import { EDIT_REQUEST, type EditParams, type EditResult } from "../../protocol/requests.ts";
import { fileOfUri } from "../files/file-uri.ts";
import { toOffset } from "../from-lsp.ts";
import { guarded } from "../guard.ts";
import { askedEdit } from "../service/rewrites/asked-edits.ts";
import { provenEdits } from "../service/rewrites/rewrites.ts";
import type { Session } from "../session.ts";
import { toTextEdits } from "../to-lsp.ts";
import { solvedViewOf } from "../views.ts";

/** The request for edits that a command asks for with a value: keys shifted, a key added at a time. */
export function registerEdits(connection: Connection, session: Session): void {
  connection.onRequest(EDIT_REQUEST, (params: EditParams, token) =>
    guarded("an edit", session.log, token, () => editFor(session, params)),
  );
}

async function editFor(session: Session, { uri, edit, tries }: EditParams): Promise<EditResult> {
  const file = fileOfUri(uri);
  const view = await solvedViewOf(session, file);
  const document = session.texts.document(file);
  if (!view || !document) return { refusal: "This document is not known." };
  const asked = edit.kind === "add-key" ? edit : { ...edit, offset: toOffset(document, edit.position) };
  const made = askedEdit(view, asked);
  if ("refusal" in made) return { refusal: sentence(made.refusal) };
  const proven = await provenEdits(view, tries ? { ...made, proofs: undefined } : made, (text) =>
    session.analyses.trial(file, text),
  );
  if ("refusal" in proven) return { refusal: sentence(proven.refusal) };
  const version = session.texts.version(file);
  return {
    ...(version === undefined ? {} : { version }),
    edits: toTextEdits(document, proven.edits),
    ...(proven.note === undefined ? {} : { note: sentence(proven.note) }),
  };
}

const sentence = (clause: string): string => `${capital(clause)}.`;
