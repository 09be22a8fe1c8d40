import { fillFollowers, type Chain } from "../rig/chain.ts";
import { knotAt } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import type { MoveAxis, ResolvedKey, ResolvedMove } from "./resolved-move.ts";
import type { AxisSource } from "./trajectory.ts";

/** Value of each axis while nothing drives it: the set-up's, else 0 or the nearest end of its range. */
export function restValues(move: ResolvedMove): number[] {
  return move.axes.map((axis, index) => {
    const given = move.setup[index];
    if (axis.role === "setup" && given !== undefined) return given;
    return axis.range ? Math.min(Math.max(0, axis.range.low), axis.range.high) : 0;
  });
}

/** Keyed values of one axis; a roll angle is a value of the head's roll axis. */
export function knotsOf(move: ResolvedMove, axis: MoveAxis, index: number): Knot[] {
  if (axis.role === "setup" || axis.role === "follows") return [];
  const knots: Knot[] = [];
  const rolls = isHeadRoll(move, axis);
  for (const key of move.keys) {
    const value = rolls && key.roll?.kind === "angle" ? key.roll.angle : givenValue(key, index);
    if (value !== undefined) knots.push(knotAt(key, value));
  }
  return knots;
}

function givenValue({ axes }: ResolvedKey, index: number): number | undefined {
  for (let i = 0; i < axes.length; i++) if (axes[i].axis === index) return axes[i].value;
  return undefined;
}

export function sourceOf(axis: MoveAxis, knots: number, solved: boolean): AxisSource {
  if (axis.role === "follows") return "follows";
  if (solved) return "solved";
  return axis.role === "setup" || knots === 0 ? "constant" : "keyed";
}

export function followerLinks(
  move: ResolvedMove,
  chain: Chain,
): { readonly root: Int32Array; readonly ratio: Float64Array; readonly offset: Float64Array } {
  const axisOf = (joint: number): number => move.axes.findIndex((axis) => axis.joint === joint);
  const zero = new Float64Array(chain.count);
  fillFollowers(chain, zero);
  const root = Int32Array.from(move.axes, (_, index) => index);
  const ratio = new Float64Array(move.axes.length).fill(1);
  const offset = new Float64Array(move.axes.length);
  move.axes.forEach((axis, index) => {
    if (axis.role !== "follows" || axis.joint < 0) return;
    const leader = axisOf(chain.root[axis.joint]);
    if (leader < 0) return;
    root[index] = leader;
    ratio[index] = chain.rootRatio[axis.joint];
    offset[index] = zero[axis.joint];
  });
  return { root, ratio, offset };
}

export function isHeadRoll(move: ResolvedMove, axis: MoveAxis): boolean {
  return 0 <= axis.joint && move.rig.head?.roll === axis.joint;
}
