import { NO_ORIGIN, type OriginId } from "../../core/base/origin-id.ts";
import type { FileId, Place, Span } from "../../core/base/span.ts";
import type { Solved } from "./view.ts";

/** Text of each key of the move, as far as it stands in `file`, in the order of the keys. */
export function keysOfFile(solved: Solved, file: FileId): { readonly key: number; readonly place: Place }[] {
  return solved.move.keys.flatMap((entry, key) => {
    const place = solved.origins.place(entry.origin);
    return place?.file === file ? [{ key, place: shifted(solved, place) }] : [];
  });
}

/**
 * Position of the key that `offset` stands in; the white space after a key belongs to it, up to the next one. `undefined`
 * before the first key and after the last.
 */
export function keyAtOffset(solved: Solved, file: FileId, offset: number): number | undefined {
  const places = keysOfFile(solved, file);
  const last = places.reduce((end, { place }) => Math.max(end, place.span.end), 0);
  if (offset > last) return undefined;
  let found: { readonly key: number; readonly start: number } | undefined;
  for (const { key, place } of places) {
    const { start } = place.span;
    if (start <= offset && (!found || start >= found.start)) found = { key, start };
  }
  return found?.key;
}

/** The text of a key; `undefined` for a key that does not exist. */
export function placeOfKey(solved: Solved, key: number): Place | undefined {
  const entry = solved.move.keys[key];
  const place = entry && solved.origins.place(entry.origin);
  return place && shifted(solved, place);
}

/** Keys whose text meets `span` of `file`, in the order of the keys. */
export function keysWithin(solved: Solved, file: FileId, { start, end }: Span): number[] {
  return keysOfFile(solved, file)
    .filter(({ place }) => place.span.start <= end && start <= place.span.end)
    .map(({ key }) => key);
}

/** Where a value stands in the text of `file` as it is now; `undefined` where it is not written there. */
export function placeOf(solved: Solved, file: FileId, origin: OriginId): Span | undefined {
  const place = origin === NO_ORIGIN ? undefined : solved.origins.place(origin);
  return place?.file === file ? shifted(solved, place).span : undefined;
}

/** A place of the solved text in the text that stands now. */
function shifted({ shift, move, origins }: Solved, place: Place): Place {
  // Other documents than the move's own are not followed: their newer text is not at hand here.
  if (!shift || place.file !== origins.place(move.origin)?.file) return place;
  return { file: place.file, span: { start: shift.toNewer(place.span.start), end: shift.toNewer(place.span.end) } };
}
