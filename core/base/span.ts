/** A half-open range of UTF-16 offsets in one file's text: `start <= offset < end`. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/**
 * Names one file. A path with `/` between its parts; on a URI's file system the scheme and authority stay in front
 * (`vscode-vfs://host/repo/a.move.yaml`). Percent-decoded. Two equal files have equal ids.
 */
export type FileId = string;

/** A span of one file. */
export interface Place {
  readonly file: FileId;
  readonly span: Span;
}
