/** A broken invariant of the program itself, never a fault of the user's text. */
export class BrokenInvariant extends Error {
  override readonly name = "BrokenInvariant";
}

/** Throws `BrokenInvariant` when `condition` holds, which must never be. */
export function never(condition: boolean, note: string): void {
  if (condition) throw new BrokenInvariant(note);
}
