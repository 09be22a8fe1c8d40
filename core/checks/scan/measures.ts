import type { Instant } from "../../motion/trajectory.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { softness } from "../optics/sharpness.ts";
import type { Measure, Watch } from "./scan.ts";

/** What the checks of poses and pictures look at. */
export type PoseRow = "miss" | "outside" | "shortFocus" | "pole" | "unsolved" | "soft";

const none = -Infinity;
const orNone = (value: number): number => (Number.isNaN(value) ? none : value);

/** [captured px] Between the framing asked for and the framing reached; Infinity when the target is behind the camera. */
function miss({ wanted, reached, aimTo, aimFrom }: Instant, { optics }: ResolvedMove): number {
  if ((aimTo < 0 && aimFrom < 0) || Number.isNaN(wanted[0])) return none;
  if (Number.isNaN(reached[0])) return Infinity;
  const [w, h] = optics.resolution;
  return Math.hypot((reached[0] - wanted[0]) * w, (reached[1] - wanted[1]) * h);
}

/** [captured px] How far what is aimed at is outside the delivered crop; negative inside it. */
export function outside(instant: Instant, move: ResolvedMove): number {
  if (instant.aimTo < 0 && instant.aimFrom < 0) return none;
  const [across, down] = instant.reached;
  return Number.isNaN(across) ? Infinity : outsideCrop(move, across, down, move.deliver);
}

/** [captured px] How far a framing is outside a centred crop of `size`; negative inside it. */
export function outsideCrop(
  { optics }: ResolvedMove,
  across: number,
  down: number,
  size: readonly [number, number],
): number {
  const [w, h] = optics.resolution;
  return Math.max(Math.abs(across - 0.5) * w - size[0] / 2, Math.abs(down - 0.5) * h - size[1] / 2);
}

/** [m] By how much the focus distance is shorter than the lens can focus. */
const shortFocus: Measure = ({ focus }, { optics }) => orNone(optics.closeFocus - focus);

/** [rad] Negative angle between the view and the pan axis. */
const pole: Measure = ({ poleAngle }) => orNone(-poleAngle);

/** 1 where the pose that the move asks for has no exact solution. */
const unsolved: Measure = ({ status }) => (status === "converged" ? 0 : 1);

const MEASURES: Readonly<Record<PoseRow, Measure>> = { miss, outside, shortFocus, pole, unsolved, soft: softness };

export function poseWatch(move: ResolvedMove): Watch<PoseRow> {
  const rows = Object.keys(MEASURES) as PoseRow[];
  const measures = rows.map((row) => MEASURES[row]);
  return {
    rows,
    look: "poses",
    record(instant, out, at) {
      for (let n = 0; n < measures.length; n++) out[at + n] = measures[n](instant, move);
    },
  };
}
