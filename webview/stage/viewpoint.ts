import type { Vec3 } from "../../core/base/vec3.ts";
import type { Side, Viewpoint } from "../panes/pane-kind.ts";

/** Vertical opening of the free view [rad]: long enough a lens that the rig keeps its shape. */
export const OPENING = (32 * Math.PI) / 180;
const SMALLEST_SPAN = 0.02;
const LARGEST_SPAN = 400;
const MARGIN = 1.06;

/** A box in the set [m]. */
export interface Bounds {
  readonly low: Vec3;
  readonly high: Vec3;
}

/** Directions that the sides are looked at from: azimuth and elevation of the eye [rad]. */
const DIRECTIONS: Readonly<Record<Side, readonly [number, number]>> = {
  free: [(-118 * Math.PI) / 180, (24 * Math.PI) / 180],
  top: [-Math.PI / 2, Math.PI / 2],
  side: [-Math.PI / 2, 0],
  front: [Math.PI, 0],
};

export interface Basis {
  readonly right: Vec3;
  readonly up: Vec3;
  /** From the centre to the eye. */
  readonly back: Vec3;
}

/** The eye's directions in the set. Looking straight down is as regular as any. */
export function basisOf(view: Viewpoint): Basis {
  const [ca, sa] = [Math.cos(view.azimuth), Math.sin(view.azimuth)];
  const [ce, se] = [Math.cos(view.elevation), Math.sin(view.elevation)];
  return { right: [-sa, ca, 0], up: [-se * ca, -se * sa, ce], back: [ce * ca, ce * sa, se] };
}

/** From the eye to the centre [m], so that `span` is what the free view's opening shows there. */
export function distanceOf(view: Viewpoint): number {
  return view.span / (2 * Math.tan(OPENING / 2));
}

/** The view of a side that shows all of `bounds` in a picture of this aspect (width over height). */
export function fitted(side: Side, bounds: Bounds, aspect: number, from?: Viewpoint): Viewpoint {
  const [azimuth, elevation] =
    side === "free" && from ? [from.azimuth, from.elevation] : [DIRECTIONS[side][0], DIRECTIONS[side][1]];
  const centre = [0, 1, 2].map((k) => (bounds.low[k] + bounds.high[k]) / 2) as unknown as Vec3;
  const view = { centre, azimuth, elevation, span: 1 };
  const basis = basisOf(view);
  let span = SMALLEST_SPAN;
  for (let corner = 0; corner < 8; corner++) {
    const off = [0, 1, 2].map((k) => ((corner >> k) & 1 ? bounds.high[k] : bounds.low[k]) - centre[k]);
    const along = (axis: Vec3): number => axis[0] * off[0] + axis[1] * off[1] + axis[2] * off[2];
    const half = Math.max(Math.abs(along(basis.up)), Math.abs(along(basis.right)) / aspect);
    // In the free view what is nearer than the centre takes more room: half ≤ tan(opening/2) · (distance − along(back)).
    const nearer = side === "free" ? along(basis.back) * Math.tan(OPENING / 2) : 0;
    span = Math.max(span, 2 * (half + nearer));
  }
  return bounded({ ...view, span: span * MARGIN });
}

/** Turns the free view; the other sides stay what they are. Radians. */
export function orbited(side: Side, view: Viewpoint, turn: number, rise: number): Viewpoint {
  if (side !== "free") return view;
  return bounded({ ...view, azimuth: view.azimuth + turn, elevation: view.elevation + rise });
}

/** Moves what is seen by shares of the picture's height, right and up. */
export function panned(view: Viewpoint, right: number, up: number): Viewpoint {
  const basis = basisOf(view);
  const centre = [0, 1, 2].map(
    (k) => view.centre[k] - view.span * (right * basis.right[k] + up * basis.up[k]),
  ) as unknown as Vec3;
  return bounded({ ...view, centre });
}

/** Shows `factor` times as much, keeping the point under the pointer, given in shares of the picture's height off its middle. */
export function zoomed(view: Viewpoint, factor: number, right = 0, up = 0): Viewpoint {
  const span = Math.min(Math.max(view.span * factor, SMALLEST_SPAN), LARGEST_SPAN);
  const kept = 1 - view.span / span;
  return panned({ ...view, span }, right * kept, up * kept);
}

function bounded(view: Viewpoint): Viewpoint {
  const far = 1000;
  const centre = view.centre.map((part) => Math.min(Math.max(part, -far), far)) as unknown as Vec3;
  return {
    centre,
    azimuth: Math.atan2(Math.sin(view.azimuth), Math.cos(view.azimuth)),
    elevation: Math.min(Math.max(view.elevation, -Math.PI / 2), Math.PI / 2),
    span: Math.min(Math.max(view.span, SMALLEST_SPAN), LARGEST_SPAN),
  };
}
