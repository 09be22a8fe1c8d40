import type { Vec2, Vec3 } from "../base/vec3.ts";
import { fromEye, inPlane, type Eye, type Rectangle } from "./eye.ts";

export type OutsideView = "top" | "side" | "front" | "free";

/** Where the eye is, seen from what it looks at: about z from x, and above the horizontal [rad]. */
const DIRECTIONS: Readonly<Record<OutsideView, readonly [number, number]>> = {
  free: [(-118 * Math.PI) / 180, (24 * Math.PI) / 180],
  top: [-Math.PI / 2, Math.PI / 2],
  side: [-Math.PI / 2, 0],
  front: [Math.PI, 0],
};
/** The free view's opening [rad]: long enough a lens that the rig keeps its shape. */
const OPENING = (32 * Math.PI) / 180;
/** Room round what is shown, of the area's shorter side. */
const MARGIN = 0.06;
/** Less than this is not drawn larger [m], so that a rig at rest on one place is still seen with what is round it. */
const LEAST = 0.5;

/**
 * An eye outside the set that shows all of `points`: from above with x to the right, from the side with x to the right,
 * along x with y to the left, or from where one stands beside the rig.
 *
 * @param points Shape (n, 3), n >= 1, finite [m].
 * @param area   Where it is drawn, px of the page.
 */
export function outsideEye(view: OutsideView, points: readonly Vec3[], area: Rectangle): Eye {
  const [azimuth, elevation] = DIRECTIONS[view];
  const [ca, sa] = [Math.cos(azimuth), Math.sin(azimuth)];
  const [ce, se] = [Math.cos(elevation), Math.sin(elevation)];
  const back: Vec3 = [ce * ca, ce * sa, se];
  const centre = [0, 1, 2].map((k) => middle(points.map((point) => point[k]))) as unknown as Vec3;
  const radius = Math.max(LEAST / 2, ...points.map((point) => Math.hypot(...point.map((part, k) => part - centre[k]))));
  const away = radius / Math.sin(OPENING / 2);
  const directions = {
    kind: view === "free" ? ("perspective" as const) : ("parallel" as const),
    position: centre.map((part, k) => part + away * back[k]) as unknown as Vec3,
    ahead: back.map((part) => -part) as unknown as Vec3,
    right: [-sa, ca, 0] as const,
    down: [se * ca, se * sa, -ce] as const,
  };
  const unplaced: Eye = { ...directions, window: area, page: (x, y) => [x, y], bends: false };
  const seen = points.map((point) => inPlane(unplaced, fromEye(unplaced, point)));
  const least = view === "free" ? LEAST / away : LEAST;
  const [xs, ys] = [seen.map(([x]) => x), seen.map(([, y]) => y)];
  const [x0, y0] = [middle(xs), middle(ys)];
  const [width, height] = [area.right - area.left, area.bottom - area.top];
  const margin = 2 * MARGIN * Math.min(width, height);
  const scale = Math.min(
    (width - margin) / Math.max(extent(xs), least),
    (height - margin) / Math.max(extent(ys), least),
  );
  const [px, py] = [(area.left + area.right) / 2, (area.top + area.bottom) / 2];
  const page = (x: number, y: number): Vec2 => [px + (x - x0) * scale, py + (y - y0) * scale];
  const half = [(0.51 * width) / scale, (0.51 * height) / scale];
  const window = { left: x0 - half[0], right: x0 + half[0], top: y0 - half[1], bottom: y0 + half[1] };
  return { ...directions, window, page, bends: false };
}

const extent = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
const middle = (values: readonly number[]): number => (Math.max(...values) + Math.min(...values)) / 2;
