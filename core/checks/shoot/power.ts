import type { FileId } from "../../base/span.ts";
import type { Task } from "../../base/task.ts";
import { lastsFor, usableEnergy } from "../../load/energy.ts";
import type { ResolvedShot } from "../../model/resolved-shoot.ts";
import type { ResolvedRig } from "../../rig/resolved-rig.ts";
import type { Finding } from "../finding.ts";
import { changedWithin, emptyIn, FRESH, lasts, together, type Spent } from "./battery-use.ts";
import type { ShootCheck, ShootMove } from "./shoot-check.ts";
import { shotEnergy } from "./shot-energy.ts";

/**
 * `power`: the takes of a shoot fit the battery. Each rig has one of its own, which gives only while a shot of that rig is
 * set up and taken. After a shot that it does not last for, the day goes on as if it had been changed there.
 */
export const power: ShootCheck = {
  code: "power",
  *run({ shoot, moves }) {
    const spent = new Map<FileId, Spent>();
    const out: Finding[] = [];
    for (const shot of shoot.shots) {
      const one = shot.move === undefined ? undefined : moves.get(shot.move);
      // Which battery was changed before a shot whose rig is not known cannot be told: nothing is said against any.
      if (!one && shot.changeBattery) spent.clear();
      const states = one?.move.rig.power;
      if (!one || !states) continue;
      const before = shot.changeBattery ? FRESH : (spent.get(one.rigFile) ?? FRESH);
      const used = yield* useBattery(shot, one, states, before);
      spent.set(one.rigFile, { ...used.spent, after: shot.label });
      if (used.finding) out.push(used.finding);
    }
    return out;
  },
};

interface Used {
  readonly spent: Spent;
  readonly finding?: Finding;
}

function* useBattery(
  shot: ResolvedShot,
  one: ShootMove,
  states: NonNullable<ResolvedRig["power"]>,
  before: Spent,
): Task<Used> {
  const stretches = yield* shotEnergy(shot, one, states);
  const usable = usableEnergy(states);
  const whole = stretches.reduce(together, before);
  if (lasts(whole, usable)) return { spent: whole };
  const alone = stretches.reduce(together, FRESH);
  const isEnough = lasts(alone, usable);
  const { spent, changes } = changedWithin(stretches, usable);
  const finding: Finding = {
    code: "power",
    severity: "error",
    origin: shot.origin,
    related: [{ origin: one.originOf(states.origin), note: "limit" }],
    measured: whole.energy,
    limit: usable,
    dimension: "energy",
    evidence: "exact",
    facts: {
      rig: one.move.rig.name,
      shot: shot.label,
      empty: emptyIn(stretches, before, usable),
      usable: states.usable,
      battery: states.battery,
      draw: whole.energy / whole.time,
      lasts: lastsFor(usable, whole.energy / whole.time),
      after: before.after ?? "",
      ...(isEnough ? {} : { alone: alone.energy, changes }),
    },
    ...(isEnough ? { adds: [{ field: "change-battery", value: "true" }] } : {}),
  };
  return { spent: isEnough ? alone : spent, finding };
}
