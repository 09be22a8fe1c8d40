import type { FindingCode } from "../../base/finding-code.ts";
import type { ResolvedWayBack } from "../../motion/resolved-move.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { LIMIT_ORDER } from "../axes/axis-limit.ts";
import { secondsUp } from "../figures.ts";
import type { Finding } from "../finding.ts";

/** Findings about places: who passes the same places has them again. Rates of the way back are its own. */
const PLACES: ReadonlySet<FindingCode> = new Set(["axis-range", "clearance", "self-clearance", "floor", "people"]);

/** True where the take has the same finding, as bad or worse. */
export function isToldOfTake(finding: Finding, told: readonly Finding[]): boolean {
  if (!PLACES.has(finding.code) || finding.dimension === "length-speed") return false;
  return told.some((one) => subject(one) === subject(finding) && breach(finding) <= breach(one) * (1 + 1e-6));
}

/** What a finding is about. Which part comes nearest to something may differ, but for parts that meet each other. */
const subject = ({ code, axis, dimension, facts }: Finding): string =>
  JSON.stringify([code, axis, dimension, facts.what, facts.end, facts.target, code === "self-clearance" && facts.part]);

const breach = ({ measured = 0, limit = 0 }: Finding): number => Math.abs(measured - limit);

/**
 * Findings of a way back told as such: at a time of its own, not of the take, so that nothing of it is drawn beside the rig
 * of a take, and with the time that it would have to take where more time is the cure. All that moves on it scales with its
 * time, so one time cures all that is too fast for its limits.
 */
export function onWayBack(
  findings: readonly Finding[],
  { time, timeOrigin }: Extract<ResolvedWayBack, { readonly kind: "direct" }>,
  way: Trajectory,
): Finding[] {
  const [first, last] = [way.move.keys[0], way.move.keys[way.move.keys.length - 1]];
  const limits = Math.max(1, ...findings.map(limitNeed));
  return findings.map((finding): Finding => {
    const kept = { ...finding, time: undefined, peak: undefined, segment: undefined, adds: undefined };
    const [limit, other] = [limitNeed(finding), otherNeed(finding)];
    const need = Math.max(limit, other);
    const back = { ...finding.facts, back: finding.peak ?? NaN, ...(finding.code === "tip-over" && { speed: "" }) };
    if (!(1 < need) || !Number.isFinite(need)) return { ...kept, facts: back };
    const whole = { segment: time, stretched: time * need, fromKey: first.label, toKey: last.label };
    const value = secondsUp(time * (1 < limit ? limits : other));
    const cure = { origin: timeOrigin, value, title: `Set \`time\` of the return to ${value}` };
    return { ...kept, facts: { ...back, ...whole }, sets: [cure] };
  });
}

/** By which factor the time would have to grow for one finding of a limit of an axis; 1 for others. */
function limitNeed({ code, measured = 0, limit = 0 }: Finding): number {
  const order = { "axis-speed": LIMIT_ORDER.speed, "axis-accel": LIMIT_ORDER.accel, "axis-jerk": LIMIT_ORDER.jerk }[
    code as string
  ];
  return order === undefined ? 1 : Math.max(1, (measured / limit) ** (1 / order));
}

/** The same for a speed near people and for a rig that tips, which the share of its speed says that would do. */
function otherNeed({ code, dimension, measured = 0, limit = 0, facts }: Finding): number {
  if (code === "people" && dimension === "length-speed") return measured / limit;
  const percent = code === "tip-over" ? parseFloat(String(facts.speed)) : NaN;
  return 0 < percent ? 100 / percent : 1;
}
