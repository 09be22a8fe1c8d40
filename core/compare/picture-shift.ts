import type { ComparedPicture } from "./compared-move.ts";

/**
 * How far a point has gone in the delivered picture, from where `other` has it to where `one` has it [px of the picture of
 * `one`]. Pictures of other sizes are laid over each other edge to edge.
 *
 * @param framing, otherFraming Of the captured pictures, shares; NaN where the point is not pictured.
 * @param out From [x, y] and by [x, y], from the top left of the delivered picture of `one`; shape (4,).
 * @returns False, and NaN in `out`, where one of the two does not picture the point.
 */
export function pictureShift(
  one: ComparedPicture,
  framing: ArrayLike<number>,
  other: ComparedPicture,
  otherFraming: ArrayLike<number>,
  out: Float64Array,
): boolean {
  for (let k = 0; k < 2; k++) {
    const to = inDelivered(one, framing[k], k) * one.deliver[k];
    const from = inDelivered(other, otherFraming[k], k) * one.deliver[k];
    out[k] = from;
    out[2 + k] = to - from;
  }
  return Number.isFinite(out[2]) && Number.isFinite(out[3]);
}

/** A share of the captured picture as one of the delivered picture, across (`k` 0) or down (1). */
export function inDelivered({ resolution, deliver }: ComparedPicture, share: number, k: number): number {
  return 0.5 + ((share - 0.5) * resolution[k]) / deliver[k];
}

/** True where a point is in the delivered picture. */
export function isDelivered(picture: ComparedPicture, framing: ArrayLike<number>): boolean {
  for (let k = 0; k < 2; k++) {
    const share = inDelivered(picture, framing[k], k);
    if (!(0 <= share && share <= 1)) return false;
  }
  return true;
}
