import { FIXED, LINEAR, type Chain, type PoseBuffer } from "../rig/chain.ts";
import { GRAVITY, type MassPoints } from "./mass-points.ts";

/** What turns an arm about one axis at a pose, taken as the work of gravity: what follows the axis goes along. */
export interface ArmMoment {
  /** Of everything but the counterweight, positive where it falls as the joint's value rises [N·m]. */
  load: number;
  /** Of one kilogram in the counterweight's place [N·m/kg]. */
  perWeight: number;
  /** The most that the load could have in any attitude: its moment with the arm level [N·m]. */
  level: number;
  /** Length of the counterweight's arm about the axis [m]. */
  radius: number;
}

/** Of a follower: below this it hardly moves with its leader, and nothing can be balanced about it. */
const LEAST_RATIO = 1e-6;

/** The turning joint that a counterweight on `link` balances: its own, or the next one before it; undefined without one. */
export function pivotOf(chain: Chain, link: number): number | undefined {
  for (let i = link; 0 <= i; i--) {
    if (chain.kind[i] !== FIXED && chain.kind[i] !== LINEAR && LEAST_RATIO < Math.abs(chain.rootRatio[i])) return i;
  }
  return undefined;
}

/**
 * The static moments about joint `pivot`. They are the rates of the masses' heights over the pivot's angle, with all that
 * follows the same axis: a head that a parallelogram keeps upright moves on a circle and does not turn. Allocates nothing.
 *
 * @param pose  From `forward` in the set frame, z up.
 * @param place Where the counterweight is in the frame of its link [m], and that link.
 * @param room  Shape (3,), overwritten.
 */
export function writeArmMoment(
  chain: Chain,
  pose: PoseBuffer,
  points: MassPoints,
  pivot: number,
  place: { readonly link: number; readonly at: ArrayLike<number> },
  room: Float64Array,
  out: ArmMoment,
): void {
  let x = 0;
  let y = 0;
  let z = 0;
  for (let k = 0; k < points.count; k++) {
    if (k === points.counterweight) continue;
    writeSweep(chain, pose, pivot, points.link[k], points.at, 3 * k, room);
    x += points.mass[k] * room[0];
    y += points.mass[k] * room[1];
    z += points.mass[k] * room[2];
  }
  writeSweep(chain, pose, pivot, place.link, place.at, 0, room);
  out.load = -GRAVITY * z;
  out.level = GRAVITY * Math.hypot(x, y, z);
  out.perWeight = -GRAVITY * room[2];
  out.radius = Math.hypot(room[0], room[1], room[2]);
}

/** How a point of a link moves for one radian of the pivot [m/rad], into the first three of `out`. */
function writeSweep(
  chain: Chain,
  { rotations: r, positions: p }: PoseBuffer,
  pivot: number,
  link: number,
  at: ArrayLike<number>,
  k: number,
  out: Float64Array,
): void {
  out[0] = 0;
  out[1] = 0;
  out[2] = 0;
  if (link < 0) return;
  const { kind, along, root, rootRatio } = chain;
  const l3 = 3 * link;
  const l9 = 9 * link;
  const x = p[l3] + r[l9] * at[k] + r[l9 + 1] * at[k + 1] + r[l9 + 2] * at[k + 2];
  const y = p[l3 + 1] + r[l9 + 3] * at[k] + r[l9 + 4] * at[k + 1] + r[l9 + 5] * at[k + 2];
  const z = p[l3 + 2] + r[l9 + 6] * at[k] + r[l9 + 7] * at[k + 1] + r[l9 + 8] * at[k + 2];
  for (let i = 0; i <= link; i++) {
    if (kind[i] === FIXED || root[i] !== root[pivot]) continue;
    const [i3, i9] = [3 * i, 9 * i];
    const ratio = rootRatio[i] / rootRatio[pivot];
    const ax = ratio * (r[i9] * along[i3] + r[i9 + 1] * along[i3 + 1] + r[i9 + 2] * along[i3 + 2]);
    const ay = ratio * (r[i9 + 3] * along[i3] + r[i9 + 4] * along[i3 + 1] + r[i9 + 5] * along[i3 + 2]);
    const az = ratio * (r[i9 + 6] * along[i3] + r[i9 + 7] * along[i3 + 1] + r[i9 + 8] * along[i3 + 2]);
    const isLinear = kind[i] === LINEAR;
    out[0] += isLinear ? ax : ay * (z - p[i3 + 2]) - az * (y - p[i3 + 1]);
    out[1] += isLinear ? ay : az * (x - p[i3]) - ax * (z - p[i3 + 2]);
    out[2] += isLinear ? az : ax * (y - p[i3 + 1]) - ay * (x - p[i3]);
  }
}
