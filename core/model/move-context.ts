import type { Rate } from "../base/rate.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import type { MoveAxis, ResolvedTurntable } from "../motion/resolved-move.ts";
import { aimAxes } from "../rig/aim-axes.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";
import type { moveDocument } from "../schema/move-fields.ts";
import type { Declared } from "./declared.ts";
import type { ResolvedSet } from "./resolve-set.ts";
import type { Scope } from "./resolution.ts";

export type MoveFields = NonNullable<Declared<typeof moveDocument>>["value"];
export type KeyFields = NonNullable<NonNullable<MoveFields["keys"]>["value"][number]>;

/** What the keys of a move are bound against. What is absent could not be resolved: names in it are not looked up. */
export interface MoveContext {
  readonly scope: Scope;
  readonly rig?: ResolvedRig;
  readonly set?: ResolvedSet;
  readonly optics?: ResolvedOptics;
  readonly axes: readonly MoveAxis[];
  /** Positions in `axes` of those that an aim solves. */
  readonly aiming: ReadonlySet<number>;
  readonly rate: Rate;
  readonly startFrame: number;
  /** Share of written speed. */
  readonly speed: number;
  /** Delivered crop [px]. */
  readonly deliver?: readonly [number, number];
}

/** The rig's joints that are not fixed, in chain order, then the turntables. */
export function moveAxes(rig: ResolvedRig | undefined, turntables: readonly ResolvedTurntable[]): MoveAxis[] {
  const joints = (rig?.joints ?? []).flatMap((joint, index): MoveAxis[] => {
    if (joint.type === "fixed" || joint.role === "none") return [];
    const { name, type, role, range, positions, limits, repeat, origins } = joint;
    const bounds = {
      ...(range ? { range } : {}),
      ...(positions ? { positions } : {}),
      ...(repeat ? { repeat } : {}),
    };
    return [{ name, type, role, joint: index, turntable: -1, ...bounds, limits, origins }];
  });
  const tables = turntables.map(({ name, range, limits, repeat, origins }, index): MoveAxis => {
    const common = { name, type: "rotary", role: "turntable", joint: -1, turntable: index } as const;
    return { ...common, ...(range ? { range } : {}), limits, ...(repeat ? { repeat } : {}), origins };
  });
  return [...joints, ...tables];
}

/** Positions in `axes` of the axes that an aim solves: pan and tilt; without a head the last turning ones. */
export function aimingAxes(rig: ResolvedRig | undefined, axes: readonly MoveAxis[]): ReadonlySet<number> {
  if (!rig) return new Set();
  const joints = rig.head ? [rig.head.pan, rig.head.tilt] : aimAxes(rig);
  return new Set(joints.map((joint) => axes.findIndex((axis) => axis.joint === joint)));
}
