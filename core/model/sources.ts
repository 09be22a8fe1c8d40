import type { FileId } from "../base/span.ts";

/**
 * What core knows of a file. `unread` means that nobody has looked yet: the answer is then withheld (no finding), and the
 * driver reads what `wanted` lists and asks again. `outside` is a path that may not be read.
 */
export type SourceState =
  | { readonly state: "text"; readonly text: string }
  /** A mesh: there, and no text. */
  | ByteSource
  | { readonly state: "missing" }
  | { readonly state: "outside" }
  | { readonly state: "unread" };

/** A file that is no text: core asks for what is in it only when it does not know that already. */
export interface ByteSource {
  readonly state: "bytes";
  /** In bytes. */
  readonly size: number;
  /** Another one when the file changes. */
  readonly stamp: string;
  /** All of it; `undefined` when it can't be read after all, or is larger than a mesh may be. */
  content(): Uint8Array | undefined;
}

/** Where core gets texts from. It never reads files: a driver puts texts in. */
export interface Sources {
  read(file: FileId): SourceState;
}
