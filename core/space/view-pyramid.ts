import { unproject } from "../lens/project.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import { convexOfPoints, type Convex } from "../solid/convex.ts";

/** Captured pixels that are cut off a picture at its edges: left, right, top, bottom. */
export type Cut = readonly [number, number, number, number];

/** What a camera sees of a picture that is cut: convex parts that together fill it, in the frame of the flange. */
export interface View {
  /** All of it and little more where the lens bends the picture's edges inwards. */
  readonly hull: Convex;
  readonly parts: readonly Convex[];
}

/** Pieces that an edge of the picture is cut into where the lens bends it: they differ from the curve by 0.1 px or so. */
const EDGE_PIECES = 8;

/** [m] How far the rig's own parts can be away at most. */
const FAR = 30;

/**
 * The view from the front of the lens barrel on, so that the lens and what is behind its front are not in it.
 *
 * @param focal Focal length [m].
 * @param pupil Entrance pupil in front of the flange [m].
 * @returns `undefined` when nothing is left of the picture.
 */
export function viewOf(optics: ResolvedOptics, focal: number, pupil: number, cut: Cut): View | undefined {
  const [w, h] = optics.resolution;
  const [left, right, top, bottom] = [cut[0] / w, 1 - cut[1] / w, cut[2] / h, 1 - cut[3] / h];
  if (!(left < right && top < bottom)) return undefined;
  const corners = [[left, top], [right, top], [right, bottom], [left, bottom]]; // prettier-ignore
  const pieces = optics.distortion ? EDGE_PIECES : 1;
  const border = corners.flatMap(([x, y], side) => {
    const [u, v] = corners[(side + 1) % 4];
    return Array.from({ length: pieces }, (_, i) =>
      directionOf(optics, focal, x + ((u - x) * i) / pieces, y + ((v - y) * i) / pieces),
    );
  });
  const near = Math.max(0, (optics.front?.length ?? 0) - pupil);
  const solid = (directions: readonly (readonly [number, number])[]): Convex =>
    convexOfPoints(
      [near, FAR].flatMap((ahead) => directions.flatMap(([y, z]) => [pupil + ahead, ahead * y, ahead * z])),
    );
  const hull = solid(border);
  if (pieces === 1) return { hull, parts: [hull] };
  const middle = directionOf(optics, focal, (left + right) / 2, (top + bottom) / 2);
  return { hull, parts: border.map((from, i) => solid([middle, from, border[(i + 1) % border.length]])) };
}

/** Y / X and Z / X of what is pictured at a framing; where the lens forms no picture, as if it did not distort. */
function directionOf(optics: ResolvedOptics, focal: number, across: number, down: number): readonly [number, number] {
  const out = [0, 0, 0];
  if (!unproject(optics, focal, across, down, out))
    unproject({ ...optics, distortion: undefined }, focal, across, down, out);
  return [out[1], out[2]];
}
