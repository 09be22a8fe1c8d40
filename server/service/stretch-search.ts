import type { FindingCode } from "../../core/base/finding-code.ts";
import type { Task } from "../../core/base/task.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { LimitOrder } from "../../core/motion/retime-shares.ts";
import { stretchSegment, type Segment } from "../../core/motion/retime.ts";

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
  return LIMITS[finding.code] !== undefined && finding.time !== undefined && finding.axis !== undefined;
}

/** The smallest stretch that keeps the finding's axis inside its limit in the segments in which it is; or none that does. */
export function* findStretch(move: ResolvedMove, finding: PlacedFinding): Task<Stretch | undefined> {
  const field = LIMITS[finding.code];
  const segment = segmentOf(move, finding);
  const axis = move.axes.findIndex(({ name }) => name === finding.axis);
  const most = field && move.axes[axis]?.limits[field.name];
  if (!field || !segment || most === undefined) return undefined;
  const factor = yield* stretchSegment(move, segment, [{ axis, order: field.order, most }]);
  return factor === undefined || factor <= 1 ? undefined : { ...segment, factor };
}

/** The keys just outside of the span in which the finding holds, so that all of it lies between them. */
function segmentOf({ keys }: ResolvedMove, { time }: PlacedFinding): Segment | undefined {
  if (!time || keys.length < 2) return undefined;
  const last = keys.length - 1;
  const before = keys.reduce((found, key, idx) => (key.time <= time.from && idx < last ? idx : found), 0);
  const after = keys.findIndex((key, idx) => idx > before && time.to <= key.time);
  return { from: before, to: after < 0 ? last : after };
}
