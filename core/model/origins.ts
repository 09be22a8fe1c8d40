import type { OriginId } from "../base/origin-id.ts";
import type { FileId, Place, Span } from "../base/span.ts";
import type { OriginTable } from "./origin-table.ts";

/** Most origins of one key: more than a rig has joints and a set turntables. */
const BLOCK = 0x10000;

/**
 * Hands out ids in the order of asking, so that the same documents with other blanks and comments get the same ids. Each
 * key has a block of ids of its own, so that one value more in a key leaves the ids of all other keys.
 */
export interface Origins extends OriginTable {
  /** A new id for a span of a file. */
  add(file: FileId, span: Span): OriginId;
  /** Puts down the origins of the key at `index` (>= 0): ids are those of `keyOrigin`, spans stand `by` further on. */
  putKey(index: number, file: FileId, by: number, spans: readonly Span[]): void;
}

/** The id of a key's nth origin, n >= 0: below 0, so that it is no id of anything else. 0 beyond what a block holds. */
export const keyOrigin = (index: number, n: number): OriginId => (n < BLOCK ? -(index * BLOCK + n + 1) : 0);

export function createOrigins(): Origins {
  const places: (Place | undefined)[] = [undefined];
  const keys: { readonly file: FileId; readonly by: number; readonly spans: readonly Span[] }[] = [];
  return {
    add: (file, span) => places.push({ file, span: { start: span.start, end: span.end } }) - 1,
    putKey: (index, file, by, spans) => void (keys[index] = { file, by, spans }),
    place(origin) {
      if (origin >= 0) return places[origin];
      const key = keys[Math.floor((-origin - 1) / BLOCK)];
      const span = key?.spans[(-origin - 1) % BLOCK];
      return span && { file: key.file, span: { start: span.start + key.by, end: span.end + key.by } };
    },
  };
}
