import { depthOfField } from "../../lens/depth-of-field.ts";
import { valueAt } from "../../lens/lens-motor.ts";
import type { ResolvedOptics } from "../../lens/resolved-optics.ts";
import type { Task } from "../../base/task.ts";
import { leavesAt } from "../../motion/key-timing.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant } from "../../motion/trajectory.ts";
import { keyAt, segmentKeys, type Anchor } from "../anchor.ts";
import type { Check } from "../check.ts";
import type { AddedField, Finding, SetValue } from "../finding.ts";
import { isLost } from "../path/path-check.ts";
import { isWithoutView } from "../picture/no-view.ts";
import type { Exceeding } from "../scan/scan.ts";
import { FOCUS_SLACK, SOFT_SLACK } from "../thresholds.ts";
import { depthsOf, settledSubject } from "./sharpness.ts";

/** `soft-subject`: what is aimed at lies outside the depth of field. See `settledSubject` for when it counts. */
export const softSubject: Check = {
  code: "soft-subject",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const scan = yield* context.scan("poses");
    const out: Finding[] = [];
    for (const span of yield* scan.above("soft", 1 + SOFT_SLACK)) {
      if (isLost(trajectory, span) || isWithoutView(trajectory, span)) continue;
      out.push(softFinding(move, scan.look(span.worst), span));
      yield;
    }
    return out;
  },
};

function softFinding(move: ResolvedMove, instant: Instant, span: Exceeding): Finding {
  const { optics } = move;
  const subject = settledSubject(instant);
  const depths = depthsOf(move, instant, subject);
  const { near, far } = depthOfField(instant.focal, instant.iris, optics.coc, depths.focused);
  const isFar = depths.focused < depths.target;
  const cause = causeOf(move, span);
  const stop = nextStop(instant.iris * span.value, mostClosed(optics));
  const { name, origin: place } = move.targets[subject];
  return {
    code: "soft-subject",
    severity: "warning",
    origin: cause.origin,
    related: [
      { origin: place, note: "target" },
      { origin: optics.cocOrigin ?? 0, note: "limit" },
      ...segmentKeys(move, cause.anchor),
    ],
    key: move.keys[cause.anchor.key].label,
    time: { from: span.from, to: span.to },
    peak: span.worst,
    measured: depths.target,
    limit: isFar ? far : near,
    dimension: "length",
    evidence: "sampled",
    facts: {
      target: name,
      side: isFar ? "far" : "near",
      blur: span.value,
      iris: instant.iris,
      focus: instant.focus,
      ...(stop === undefined ? {} : { stop }),
    },
    ...curesOf(move, instant, span, cause, stop, subject),
  };
}

/** [s] Nearer than this to a key's time is at the key: what goes over to it is there, to rounding, a hair before. */
const AT_KEY = 1e-3;

/** What makes the subject soft: the aim that a key turned to it, or the focus of a key. */
interface Cause {
  readonly by: "aim" | "focus";
  readonly anchor: Anchor;
  readonly origin: number;
}

/** The later of the aim and the focus that hold at the worst instant: that one was written without the other. */
function causeOf({ keys, ...move }: ResolvedMove, { worst }: Exceeding): Cause {
  const all = keys.map((_, idx) => idx);
  const focusing = all.filter((idx) => keys[idx].focus);
  const held = (idx: number): boolean => keys[idx].time <= worst + AT_KEY;
  const aim = all.filter((idx) => keys[idx].aim && held(idx)).pop() ?? 0;
  const focus = focusing.filter(held).pop() ?? 0;
  const anchor = keyAt({ keys, ...move }, focus < aim ? [aim] : focusing, worst);
  const key = keys[anchor.key];
  if (focus < aim) return { by: "aim", anchor, origin: key.timeOrigin || key.origin };
  return { by: "focus", anchor, origin: key.focus?.origin || anchor.origin };
}

function curesOf(
  move: ResolvedMove,
  instant: Instant,
  span: Exceeding,
  cause: Cause,
  stop: number | undefined,
  subject: number,
): { readonly adds: readonly AddedField[]; readonly sets: readonly SetValue[] } {
  const adds: AddedField[] = [];
  const sets: SetValue[] = [];
  if (stop !== undefined) {
    const stated = irisHeld(move, span);
    if (stated === "everywhere") adds.push({ field: "iris", value: String(stop) });
    else if (stated) sets.push({ origin: stated, value: String(stop), title: `Close the iris to f/${stop}` });
  }
  const { name } = move.targets[subject];
  // In focus, the subject would be at its own distance from the sensor plane.
  const depth = depthsOf(move, instant, subject).target + instant.pupil + move.optics.flange;
  if (depth < move.optics.closeFocus + FOCUS_SLACK || !holdsAlone(move, span, cause)) return { adds, sets };
  if (cause.by === "aim") adds.push({ field: "focus", value: name });
  else sets.push({ origin: cause.origin, value: name, title: `Focus on ${name}` });
  return { adds, sets };
}

/**
 * Where the iris of a whole span is stated: `everywhere` when no key does, else the one key whose iris holds. Nothing
 * between two of them, where the iris is on its way.
 */
function irisHeld({ keys }: ResolvedMove, { from, to }: Exceeding): "everywhere" | number | undefined {
  const stating = keys.filter(({ iris }) => iris);
  if (stating.length === 0) return "everywhere";
  const [first, last] = [stating[0], stating[stating.length - 1]];
  if (last.time <= from + AT_KEY) return last.iris?.origin;
  return to <= leavesAt(first) + AT_KEY ? first.iris?.origin : undefined;
}

/** True where the focus at the cause's key alone decides all of the span: no later key focuses, and it has begun. */
function holdsAlone({ keys }: ResolvedMove, { from }: Exceeding, { by, anchor }: Cause): boolean {
  const isLater = keys.some(({ focus }, idx) => focus && anchor.key < idx);
  const isFirst = by === "focus" && !keys.some(({ focus }, idx) => focus && idx < anchor.key);
  return !isLater && (isFirst || keys[anchor.key].time <= from + AT_KEY);
}

/** Third stops as lens scales print them (common practice, no source). */
const STOPS = [
  1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11, 13, 14, 16, 18, 20,
  22, 25, 29, 32,
] as const;

/** Where a lens of which nothing is known ends: as many do. */
const COMMONLY_CLOSED = 22;
/** Scales are read to rounding. */
const SCALE_SLACK = 1e-6;

/** The largest f-number that the lens has: the end of its iris motor's scale, where it states one. */
function mostClosed({ motors = [] }: ResolvedOptics): number {
  const scale = motors.find(({ name }) => name === "iris")?.scale;
  return scale ? valueAt("iris", scale.places[scale.places.length - 1]) * (1 + SCALE_SLACK) : COMMONLY_CLOSED;
}

/** The next third stop that is closed at least as far; none beyond what the lens has. */
const nextStop = (iris: number, most: number): number | undefined => STOPS.find((stop) => iris <= stop && stop <= most);
