import type { DocumentCode, Severity } from "./finding-code.ts";
import type { FileId, Place, Span } from "./span.ts";

/** A mechanical change of text that cures a problem: replace `span` of `file` by `text`. */
export interface TextCure {
  readonly title: string;
  readonly file: FileId;
  readonly edits: readonly { readonly span: Span; readonly text: string }[];
}

/** One fault of a document as text: found while it is read or resolved. The message is complete and ready to show. */
export interface Problem {
  readonly code: DocumentCode;
  readonly severity: Severity;
  readonly place: Place;
  readonly message: string;
  readonly key?: string;
  readonly axis?: string;
  readonly related?: readonly { readonly place: Place; readonly message: string }[];
  readonly cures?: readonly TextCure[];
}
