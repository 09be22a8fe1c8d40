import type { FileId } from "../base/span.ts";

/**
 * What core knows of a file. `unread` means that nobody has looked yet: the answer is then withheld (no finding), and the
 * driver reads what `wanted` lists and asks again. `outside` is a path that may not be read.
 */
export type SourceState =
  | { readonly state: "text"; readonly text: string }
  /** A mesh: there, and no text. `size` in bytes; `stamp` is another one when the file changes. */
  | { readonly state: "bytes"; readonly size: number; readonly stamp: string }
  | { readonly state: "missing" }
  | { readonly state: "outside" }
  | { readonly state: "unread" };

/** Where core gets texts from. It never reads files: a driver puts texts in. */
export interface Sources {
  read(file: FileId): SourceState;
}
