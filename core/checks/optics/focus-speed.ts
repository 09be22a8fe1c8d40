import { valueAt, type LensMotor, type MotorName } from "../../lens/lens-motor.ts";
import type { Dimension } from "../../base/dimension.ts";
import type { OriginId } from "../../base/origin-id.ts";
import type { Task } from "../../base/task.ts";
import type { ResolvedKey, ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant } from "../../motion/trajectory.ts";
import { keyAt, segmentKeys, type Anchor } from "../anchor.ts";
import { LIMIT_ORDER, type LimitName } from "../axes/axis-limit.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { isLost } from "../path/path-check.ts";
import { segmentFacts } from "../segment-facts.ts";
import { LIMIT_SLACK } from "../thresholds.ts";
import { motorLook, motorRows, offScaleSpans, ratesAbove, type MotorLook, type MotorSpan } from "./motor-rates.ts";
import { LIMIT_NAMES, motorInput, motorsOf } from "./motor-watch.ts";

/**
 * `focus-speed`: a focus, iris or zoom motor turns faster than it can, or changes its speed faster, on its own scale; or goes
 * off that scale, where nobody knows how far it turns.
 */
export const focusSpeed: Check = {
  code: "focus-speed",
  *run(context): Task<readonly Finding[]> {
    const { trajectory, move, seen } = context;
    const motors = motorsOf(move);
    if (motors.length === 0) return [];
    const look = motorLook(trajectory, motors);
    const intervals = yield* motorRows(look, yield* context.scan("motors"), seen);
    const out: Finding[] = [];
    for (const [m, motor] of motors.entries()) {
      for (const name of LIMIT_NAMES) {
        const limit = motor.limits[name];
        if (limit === undefined) continue;
        const spans = yield* ratesAbove(look, intervals, m, name, limit * (1 + LIMIT_SLACK));
        out.push(...oneAPull(spans.flatMap((span) => limitFinding(context, look, motor, name, limit, span))));
        yield;
      }
      const off = yield* offScaleSpans(look, intervals, m);
      out.push(...off.flatMap((span) => scaleFinding(context, look, motor, span)));
    }
    return out;
  },
};

/** A rack breaks a limit where it speeds up and again where it slows down: one finding tells the worst of a pull. */
function oneAPull(findings: readonly Finding[]): Finding[] {
  const pulls = new Map<string, Finding[]>();
  for (const finding of findings) {
    const name = `${finding.key}, ${finding.origin}`;
    pulls.set(name, [...(pulls.get(name) ?? []), finding]);
  }
  return [...pulls.values()].map((group) => {
    if (group.length === 1) return group[0];
    const worst = group.reduce((a, b) => ((b.measured ?? 0) > (a.measured ?? 0) ? b : a));
    const from = Math.min(...group.map(({ time }) => time!.from));
    const to = Math.max(...group.map(({ time }) => time!.to));
    return { ...worst, time: { from, to }, facts: { ...worst.facts, spans: group.length } };
  });
}

function limitFinding(
  { move, trajectory }: CheckContext,
  look: MotorLook,
  motor: LensMotor,
  name: LimitName,
  limit: number,
  span: MotorSpan,
): Finding[] {
  if (isLost(trajectory, span)) return [];
  const { from, to, worst, side, value } = span;
  trajectory.at(worst, look.instant, side);
  const pull = pullAt(move, motor.name, look.instant, span);
  return [
    {
      code: "focus-speed",
      severity: "error",
      origin: pull.origin,
      related: [{ origin: motor.origins[name], note: "limit" }, ...segmentKeys(move, pull.anchor)],
      key: move.keys[pull.anchor.key].label,
      axis: motor.name,
      time: { from, to },
      peak: worst,
      measured: value,
      limit,
      dimension: `angle-${name}`,
      evidence: "sampled",
      facts: {
        of: name,
        ...pull.facts,
        ...segmentFacts(move, pull.anchor, (value / limit) ** (1 / LIMIT_ORDER[name])),
      },
    },
  ];
}

const DIMENSIONS: Readonly<Record<MotorName, Dimension>> = { focus: "length", iris: "number", zoom: "length" };

function scaleFinding(
  { move, trajectory }: CheckContext,
  look: MotorLook,
  motor: LensMotor,
  span: MotorSpan,
): Finding[] {
  if (isLost(trajectory, span)) return [];
  const { from, to, worst, side } = span;
  trajectory.at(worst, look.instant, side);
  const pull = pullAt(move, motor.name, look.instant, span);
  const [measured] = motorInput(motor.name, look.instant);
  const { places } = motor.scale;
  const ends = [valueAt(motor.name, places[0]), valueAt(motor.name, places[places.length - 1])];
  return [
    {
      code: "focus-speed",
      severity: "warning",
      origin: pull.origin,
      related: [{ origin: motor.origins.scale, note: "limit" }, ...segmentKeys(move, pull.anchor)],
      key: move.keys[pull.anchor.key].label,
      axis: motor.name,
      time: { from, to },
      peak: worst,
      measured,
      limit: Math.abs(measured - ends[0]) < Math.abs(measured - ends[1]) ? ends[0] : ends[1],
      dimension: DIMENSIONS[motor.name],
      evidence: "sampled",
      facts: { of: "scale", ...pull.facts },
    },
  ];
}

/** What moves a motor at one time, and the key whose text says so. */
interface Pull {
  readonly anchor: Anchor;
  readonly origin: OriginId;
  readonly facts: Finding["facts"];
}

/** What each motor follows of a key, with the place of it. */
const STATED: Readonly<Record<MotorName, (key: ResolvedKey) => OriginId | undefined>> = {
  focus: ({ focus }) => focus?.origin,
  iris: ({ iris }) => iris?.origin,
  zoom: ({ zoom }) => zoom?.origin,
};

function pullAt(move: ResolvedMove, name: MotorName, instant: Instant, { worst, side }: MotorSpan): Pull {
  const { focusFrom, focusTo } = instant;
  const all = move.keys.map((_, idx) => idx);
  const value = motorInput(name, instant)[0];
  if (name === "focus" && focusFrom === focusTo && 0 <= focusTo) {
    // Focus stays on a target: what moves the two against each other does it, not the word `focus`.
    const anchor = keyAt(move, all, worst, side);
    return { anchor, origin: anchor.origin, facts: { value, follows: move.targets[focusTo].name } };
  }
  const stating = all.filter((idx) => STATED[name](move.keys[idx]) !== undefined);
  const anchor = keyAt(move, stating.length > 0 ? stating : all, worst, side);
  const origin = STATED[name](move.keys[anchor.key]) || anchor.origin;
  const racks = name === "focus" && focusFrom !== focusTo;
  const thing = (target: number): string => move.targets[target]?.name ?? "a set distance";
  return { anchor, origin, facts: { value, ...(racks ? { from: thing(focusFrom), to: thing(focusTo) } : {}) } };
}
