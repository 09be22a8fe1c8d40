import { findingsOf } from "../core/checks/analysis.ts";
import { keyAt } from "../core/checks/anchor.ts";
import type { MoveDocument, NotRetimed, Retimed } from "../core/edit/times/retime-text.ts";
import type { TimeChange } from "../core/edit/times/time-edits.ts";
import type { Fit } from "../core/motion/retime-fit.ts";
import { bindingByAxis, LIMIT_NAMES, type LimitShare } from "../core/motion/retime-shares.ts";
import type { Trajectory } from "../core/motion/trajectory.ts";
import { indexLines } from "../core/syntax/lines.ts";
import { findingAnswer } from "./finding-answer.ts";
import { ANSWER_VERSION } from "./json.ts";

/** What `retime` answers. Times are played seconds; `text` are times as the document writes them. */
export interface RetimeAnswer {
  readonly version: number;
  readonly fit: Fit;
  /** Of `whole`: new time over old. */
  readonly factor?: number;
  /** Of `whole`: true where something keeps its own time, so that the factor was found by trials. */
  readonly iterated?: true;
  readonly duration: { readonly before: number; readonly after: number };
  readonly keys: readonly {
    readonly name: string;
    readonly before: number;
    readonly after: number;
    readonly text: readonly Omit<TimeChange, "key">[];
  }[];
  /** Of each axis that moves and has limits the one that asks for the most time, and when. */
  readonly binding: readonly {
    readonly axis: string;
    readonly limit: "speed" | "accel" | "jerk";
    readonly share: number;
    readonly time: number;
    /** The key that the axis is on the way to then. */
    readonly key: string;
  }[];
  /** Of `fastest`: no timing of this path is shorter. */
  readonly lowerBound?: number;
  /** Of `fastest`: the path run through within all limits; keys alone cannot say its course. */
  readonly pathTime?: number;
  /** Keys whose way keeps its time, as no limit asks for any. */
  readonly untouched?: readonly string[];
  /** Why the move is not retimed, or its times can't be written. */
  readonly reason?: string;
  /** Errors that are left. */
  readonly remaining: readonly Record<string, unknown>[];
  readonly written: boolean;
}

export function retimeAnswer(
  { text, analysis }: MoveDocument,
  fit: Fit,
  retimed: Retimed | NotRetimed,
  shares: readonly LimitShare[],
  written: boolean,
): RetimeAnswer {
  const before = analysis.trajectory!;
  const isDone = retimed.status === "retimed";
  const after = isDone ? retimed.trajectory : before;
  const texts = isDone && "text" in retimed.written ? retimed.written : undefined;
  const { factor, iterated, least, untouched } = isDone ? retimed.fitted : {};
  const reason = !isDone ? retimed.reason : "reason" in retimed.written ? retimed.written.reason : least?.reason;
  const remaining = isDone ? retimed.remaining : findingsOf(analysis).filter(({ severity }) => severity === "error");
  const lines = indexLines(texts?.text ?? text);
  return {
    version: ANSWER_VERSION,
    fit,
    ...(factor === undefined ? {} : { factor }),
    ...(iterated ? { iterated } : {}),
    duration: { before: before.duration, after: after.duration },
    keys: before.move.keys.map((key, i) => ({
      name: key.label,
      before: key.time,
      after: after.move.keys[i].time,
      text: (texts?.changes ?? []).filter(({ key: at }) => at === i).map(({ key: _key, ...change }) => change),
    })),
    binding: bindingByAxis(shares.filter(({ share }) => 0 < share)).map((share) => bindingAnswer(after, share)),
    ...(least ? { lowerBound: least.lowerBound, pathTime: least.duration } : {}),
    ...(untouched && 0 < untouched.length ? { untouched: untouched.map((i) => before.move.keys[i].label) } : {}),
    ...(reason === undefined ? {} : { reason }),
    remaining: remaining.map((finding) => findingAnswer(finding, lines)),
    written,
  };
}

function bindingAnswer(
  { move, axes }: Trajectory,
  { axis, order, share, t, side }: LimitShare,
): RetimeAnswer["binding"][number] {
  const anchor = keyAt(
    move,
    move.keys.map((_, i) => i),
    t,
    side,
  );
  return { axis: axes[axis].name, limit: LIMIT_NAMES[order], share, time: t, key: move.keys[anchor.key].label };
}
