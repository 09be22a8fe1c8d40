import { LSPErrorCodes, ResponseError } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { fileOfUri } from "./files/file-uri.ts";
import type { View } from "./service/view.ts";
import type { Session } from "./session.ts";
import type { viewOf } from "./views.ts";

/** A document as a request finds it. */
export interface Subject {
  readonly view: View;
  readonly document: TextDocument;
}

/** The document of a request, with its motion where the answer needs it: `read` says which. */
export type SubjectOf = (uri: string, read: typeof viewOf) => Promise<Subject | undefined>;

/** Finds documents for requests. One whose text changes meanwhile is answered as such: the client asks again. */
export function subjectsOf(session: Session): SubjectOf {
  const { texts } = session;
  return async (uri, read) => {
    const file = fileOfUri(uri);
    const asked = texts.version(file);
    const view = await read(session, file);
    const document = texts.document(file);
    // Places in the question are of the text as it was: an answer for another text would be wrong.
    if (texts.version(file) !== asked) throw new ResponseError(LSPErrorCodes.ContentModified, "The text has changed.");
    return view && document ? { view, document } : undefined;
  };
}
