import { undistort } from "../lens/distortion.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import { productTerm, quotientTerm, ROOM } from "./series.ts";

/** Series of the picture point that is asked for, on normalised coordinates x = -Y/X, y = -Z/X, and what leads to it. */
export interface WantedRoom {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Framing in metres on the sensor, and divided by the focal length. */
  readonly across: Float64Array;
  readonly down: Float64Array;
  readonly xd: Float64Array;
  readonly yd: Float64Array;
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly yy: Float64Array;
  readonly u: Float64Array;
  readonly uu: Float64Array;
  readonly radial: Float64Array;
  readonly plane: Float64Array;
  readonly scratch: Float64Array;
}

export function createWantedRoom(): WantedRoom {
  const series = (): Float64Array => new Float64Array(ROOM);
  return {
    x: series(),
    y: series(),
    across: series(),
    down: series(),
    xd: series(),
    yd: series(),
    xx: series(),
    xy: series(),
    yy: series(),
    u: series(),
    uu: series(),
    radial: series(),
    plane: new Float64Array(2),
    scratch: new Float64Array(5),
  };
}

/**
 * Where on the normalised picture the framing lies, orders 0 to `order`: the lens's distortion undone by solving
 * D(x, y) = (xd, yd) order by order with the same derivative.
 *
 * @param framing Series of across and down at `across` and `down` of `series`; focal length [m] at `focal`.
 * @returns False where the lens forms no picture; x and y are then those without distortion.
 */
export function writeWanted(
  optics: ResolvedOptics,
  series: Float64Array,
  across: number,
  down: number,
  focal: number,
  order: number,
  room: WantedRoom,
): boolean {
  const width = optics.squeeze * optics.sensor[0];
  const height = optics.sensor[1];
  for (let k = 0; k <= order; k++) {
    room.across[k] = (series[across + k] - (k === 0 ? 0.5 + optics.centre[0] : 0)) * width;
    room.down[k] = (series[down + k] - (k === 0 ? 0.5 + optics.centre[1] : 0)) * height;
    room.xd[k] = quotientTerm(room.across, 0, series, focal, room.xd, 0, k);
    room.yd[k] = quotientTerm(room.down, 0, series, focal, room.yd, 0, k);
    room.x[k] = room.xd[k];
    room.y[k] = room.yd[k];
  }
  if (!optics.distortion) return true;
  if (!undistort(optics.distortion, room.xd[0], room.yd[0], room.plane, room.scratch)) return false;
  room.x[0] = room.plane[0];
  room.y[0] = room.plane[1];
  const a = room.scratch[2];
  const b = room.scratch[3];
  const c = room.scratch[4];
  const det = a * c - b * b;
  writeMonomials(optics, room, 0);
  for (let k = 1; k <= order; k++) {
    room.x[k] = 0;
    room.y[k] = 0;
    writeMonomials(optics, room, k);
    const missX = room.xd[k] - distortedX(optics, room, k);
    const missY = room.yd[k] - distortedY(optics, room, k);
    room.x[k] = (c * missX - b * missY) / det;
    room.y[k] = (a * missY - b * missX) / det;
    writeMonomials(optics, room, k);
  }
  return true;
}

/** Coefficient `k` of x², xy, y², u = x² + y², u² and R = 1 + k1 u + k2 u² + k3 u³. */
function writeMonomials(optics: ResolvedOptics, room: WantedRoom, k: number): void {
  const d = optics.distortion!;
  room.xx[k] = productTerm(room.x, 0, room.x, 0, k);
  room.xy[k] = productTerm(room.x, 0, room.y, 0, k);
  room.yy[k] = productTerm(room.y, 0, room.y, 0, k);
  room.u[k] = room.xx[k] + room.yy[k];
  room.uu[k] = productTerm(room.u, 0, room.u, 0, k);
  const cube = productTerm(room.u, 0, room.uu, 0, k);
  room.radial[k] = (k === 0 ? 1 : 0) + d.k1 * room.u[k] + d.k2 * room.uu[k] + d.k3 * cube;
}

function distortedX(optics: ResolvedOptics, room: WantedRoom, k: number): number {
  const d = optics.distortion!;
  const { x, radial, xx, xy, u } = room;
  return productTerm(x, 0, radial, 0, k) + 2 * d.p1 * xy[k] + d.p2 * (u[k] + 2 * xx[k]);
}

function distortedY(optics: ResolvedOptics, room: WantedRoom, k: number): number {
  const d = optics.distortion!;
  const { y, radial, yy, xy, u } = room;
  return productTerm(y, 0, radial, 0, k) + d.p1 * (u[k] + 2 * yy[k]) + 2 * d.p2 * xy[k];
}
