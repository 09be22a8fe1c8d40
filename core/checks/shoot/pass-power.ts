import type { Task } from "../../base/task.ts";
import { lastsFor, usableEnergy } from "../../load/energy.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { RETURN_SHARE } from "../../motion/way-back.ts";
import type { ResolvedRig } from "../../rig/resolved-rig.ts";
import { passCount } from "../passes/last-pass.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { changedWithin, emptyIn, FRESH, lasts, together } from "./battery-use.ts";
import { shotEnergy } from "./shot-energy.ts";

type Power = NonNullable<ResolvedRig["power"]>;

/**
 * `power` of a move by itself: a single take lasts no longer than a fresh battery does, and where all its passes with the
 * ways back need more than one, that is told for information. A shoot says more: it knows set-ups, waits and changes.
 */
export const passPower: Check = {
  code: "power",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory, seen } = context;
    const { power } = move.rig;
    if (!power || mostEnergy(power, context) <= usableEnergy(power)) return [];
    const shot = { label: move.title, setupTime: 0, changeBattery: false, origin: 0 };
    const stretches = yield* shotEnergy(shot, { move, trajectory, seen }, power);
    const usable = usableEnergy(power);
    const whole = stretches.reduce(together, FRESH);
    // What comes last has no way back after it: it is a take alone.
    const take = stretches[stretches.length - 1];
    const isOne = !lasts(take, usable);
    if (lasts(whole, usable)) return [];
    const { energy, time } = isOne ? take : whole;
    const last = move.keys[move.keys.length - 1];
    const { changes } = changedWithin(stretches, usable);
    return [
      {
        code: "power",
        severity: isOne ? "error" : "information",
        origin: isOne || move.passes.length === 0 ? last.timeOrigin || last.origin : move.passes[0].origin,
        related: [{ origin: power.origin, note: "limit" }],
        ...(isOne ? { key: last.label } : {}),
        measured: energy,
        limit: usable,
        dimension: "energy",
        evidence: "exact",
        facts: {
          rig: move.rig.name,
          of: isOne ? "take" : "passes",
          passes: passCount(move),
          empty: emptyIn(stretches, FRESH, usable),
          usable: power.usable,
          battery: power.battery,
          draw: energy / time,
          lasts: lastsFor(usable, energy / time),
          changes,
        },
      },
    ];
  },
};

/** No more than this is drawn [J], whatever moves: it spares most moves a closer look. */
function mostEnergy(power: Power, { move, trajectory }: CheckContext): number {
  const draw = Object.values(power.axes).reduce((sum, each) => sum + each, power.idle);
  return draw * passCount(move) * (trajectory.duration + longestWay(move, trajectory.duration));
}

/** A way back takes no longer than this [s]. */
function longestWay({ wayBack }: ResolvedMove, duration: number): number {
  if (wayBack?.kind === "none") return 0;
  return wayBack?.kind === "direct" ? wayBack.time : duration / (wayBack?.share ?? RETURN_SHARE);
}
