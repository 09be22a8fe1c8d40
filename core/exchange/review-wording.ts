import type { FileId, Place } from "../base/span.ts";
import type { TextRange } from "./checked-document.ts";

/** What a renderer of a review has to be told beside the review. */
export interface ReviewWording {
  /** A file as people know it: its path from where they are. `side` is told where it is of the side before. */
  nameOf(file: FileId, side?: "before"): string;
  /** Lines and columns of a place in the text of its side. */
  rangeOf(place: Place, side: "before" | "after"): TextRange;
  /** What the sides are called: `HEAD~2`, `the files on the disk`. */
  readonly before: string;
  readonly after: string;
  /** What else has to be said, one sentence each. */
  readonly notes: readonly string[];
}
