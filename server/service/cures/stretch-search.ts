import type { FindingCode } from "../../../core/base/finding-code.ts";
import type { Task } from "../../../core/base/task.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import { motorExcess } from "../../../core/checks/optics/motor-rates.ts";
import { pictureExcess, tooFast, type TooFast } from "../../../core/checks/optics/picture-excess.ts";
import type { ResolvedMove } from "../../../core/motion/resolved-move.ts";
import type { LimitOrder } from "../../../core/motion/retime-shares.ts";
import { stretchSegment, stretchUntil, type Segment } from "../../../core/motion/retime.ts";

/** The keys between which a limit is broken, and by which factor the time between them must grow. */
export interface Stretch extends Segment {
  /** More than 1; at most 0.02 % more than is needed. */
  readonly factor: number;
}

interface LimitField {
  readonly order: LimitOrder;
  readonly name: "speed" | "accel" | "jerk";
}

const LIMITS: Readonly<Partial<Record<FindingCode, LimitField>>> = {
  "axis-speed": { order: 1, name: "speed" },
  "axis-accel": { order: 2, name: "accel" },
  "axis-jerk": { order: 3, name: "jerk" },
};

/** True for findings that more time between keys can cure. */
export function isStretchable(finding: PlacedFinding): boolean {
  return isOfAxisLimit(finding) || isOfMotorLimit(finding) || pictureOf(finding) !== undefined;
}

/** What of the picture is too fast, for findings that say so: told apart by the unit in which they are shown. */
export function pictureOf({ code, axis, time, unit }: PlacedFinding): TooFast | undefined {
  const dimension = unit === "s" ? "time" : unit === "px" ? "pixels" : "angle-speed";
  return time && tooFast({ code, axis, dimension });
}

/** True for a broken limit of an axis, for which the whole move may be retimed too. */
export function isOfAxisLimit(finding: PlacedFinding): boolean {
  return LIMITS[finding.code] !== undefined && finding.time !== undefined && finding.axis !== undefined;
}

/** True for a broken limit of a lens motor, but not for one that is off its scale: its figure is then no rate. */
function isOfMotorLimit({ code, time, unit }: PlacedFinding): boolean {
  return code === "focus-speed" && time !== undefined && unit?.includes("/s") === true;
}

/** The smallest stretch that keeps the finding's axis, motor or picture inside its limit in the segments in which it is; or none that does. */
export function* findStretch(move: ResolvedMove, finding: PlacedFinding): Task<Stretch | undefined> {
  const segment = segmentOf(move, finding.time);
  if (!segment) return undefined;
  const picture = pictureOf(finding);
  const factor = yield* picture
    ? stretchUntil(move, segment, (trajectory, from, to) => pictureExcess(trajectory, picture, from, to))
    : isOfMotorLimit(finding)
      ? stretchForMotor(move, finding, segment)
      : stretchForAxis(move, finding, segment);
  return factor === undefined || factor <= 1 ? undefined : { ...segment, factor };
}

function* stretchForAxis(move: ResolvedMove, finding: PlacedFinding, segment: Segment): Task<number | undefined> {
  const field = LIMITS[finding.code];
  const axis = move.axes.findIndex(({ name }) => name === finding.axis);
  const most = field && move.axes[axis]?.limits[field.name];
  if (!field || most === undefined) return undefined;
  return yield* stretchSegment(move, segment, [{ axis, order: field.order, most }]);
}

/** A motor has to keep all of its limits: one of them alone would leave it too fast all the same. */
function* stretchForMotor(move: ResolvedMove, finding: PlacedFinding, segment: Segment): Task<number | undefined> {
  const motor = move.optics.motors?.find(({ name }) => name === finding.axis);
  if (!motor) return undefined;
  return yield* stretchUntil(move, segment, (trajectory, from, to) => motorExcess(trajectory, motor, from, to));
}

/** The keys just outside of a span of time, so that all of it lies between them. */
export function segmentOf({ keys }: ResolvedMove, time: PlacedFinding["time"]): Segment | undefined {
  if (!time || keys.length < 2) return undefined;
  const last = keys.length - 1;
  const before = keys.reduce((found, key, idx) => (key.time <= time.from && idx < last ? idx : found), 0);
  const after = keys.findIndex((key, idx) => idx > before && time.to <= key.time);
  return { from: before, to: after < 0 ? last : after };
}
