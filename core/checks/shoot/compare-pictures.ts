import type { Vec2, Vec3 } from "../../base/vec3.ts";
import { deliveredAt, deliveredHeight, directionsAbout, type Shown } from "./shown.ts";

/** How far two pictures of a target lie apart, in captured px of the first; shares of the delivered pictures are compared. */
export interface Apart {
  /** Of the target itself; `Infinity` where one camera does not see it. */
  readonly target: number;
  /** The most of the target and what is about it. */
  readonly most: number;
  /** From the target [m], what was looked at about it. */
  readonly reach: number;
}

/** Share of the delivered picture's height that is compared where no size is stated; common practice, no source. */
const COMPARED_SHARE = 0.5;

/**
 * Compares what two cameras show of a target and of points about it. Distance, direction, height, roll and focal length all
 * move those points in the picture, so that one figure holds them all.
 *
 * @param size How large what is compared is [m], >= 0; the points are half of it away from the target.
 */
export function comparePictures(first: Shown, second: Shown, size?: number): Apart {
  const across = size ?? Math.max(0, COMPARED_SHARE * deliveredHeight(first));
  const reach = across / 2;
  const target = apart(first, deliveredAt(first), deliveredAt(second));
  const most = pointsAbout(first, second).reduce((worst, [a, b]) => {
    const between = apart(first, deliveredAt(first, scaled(a, reach)), deliveredAt(second, scaled(b, reach)));
    // A point that a lens forms no picture of is in no picture; the others tell.
    return Number.isFinite(between) ? Math.max(worst, between) : worst;
  }, target);
  return { target, most, reach };
}

/** Equal directions from both targets: of the sets, and of tables that both stand on, which turn what stands on them. */
function pointsAbout(first: Shown, second: Shown): readonly (readonly [Vec3, Vec3])[] {
  const [a, b] = [directionsAbout(first), directionsAbout(second)];
  // Where only one target stands on a table there is nothing of the other that turns.
  return a.slice(0, Math.min(a.length, b.length)).map((each, idx) => [each, b[idx]] as const);
}

function apart({ move: { deliver } }: Shown, a: Vec2, b: Vec2): number {
  const between = Math.hypot((b[0] - a[0]) * deliver[0], (b[1] - a[1]) * deliver[1]);
  return Number.isNaN(between) ? Infinity : between;
}

const scaled = (v: Vec3, by: number): Vec3 => [v[0] * by, v[1] * by, v[2] * by];
