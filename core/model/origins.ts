import type { OriginId } from "../base/origin-id.ts";
import type { FileId, Place, Span } from "../base/span.ts";
import type { OriginTable } from "./origin-table.ts";

/** Hands out ids in the order of asking, so that the same documents with other blanks and comments get the same ids. */
export interface Origins extends OriginTable {
  /** A new id for a span of a file. */
  add(file: FileId, span: Span): OriginId;
}

export function createOrigins(): Origins {
  const places: (Place | undefined)[] = [undefined];
  return {
    add: (file, span) => places.push({ file, span: { start: span.start, end: span.end } }) - 1,
    place: (origin) => places[origin],
  };
}
