import type { FileId } from "../../base/span.ts";
import type { Task } from "../../base/task.ts";
import { analyse, createMemo } from "../../checks/analyse.ts";
import { findingsOf, type Analysis } from "../../checks/analysis.ts";
import type { PlacedFinding } from "../../checks/finding.ts";
import { LIMIT_SLACK } from "../../checks/thresholds.ts";
import type { Sources } from "../../model/sources.ts";
import { fitMove, type Fit, type FittedMove } from "../../motion/retime-fit.ts";
import { limitShares, type LimitShare } from "../../motion/retime-shares.ts";
import { scaledMove, timingOf, withTiming } from "../../motion/retime-timing.ts";
import { needsByKey } from "../../motion/retime-trial.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import type { Tree } from "../../syntax/tree.ts";
import { applyEdits, type TextEdits } from "../apply-edits.ts";
import { unfittedReason } from "./retime-words.ts";
import { keyFieldsOf } from "./time-fields.ts";
import { writeTimes, type TimeChange } from "./time-edits.ts";
import { stepOf } from "./written-time.ts";

/** A move document that was analysed: its text and what it means. */
export interface MoveDocument {
  readonly file: FileId;
  readonly text: string;
  readonly tree: Tree;
  readonly sources: Sources;
  /** With a trajectory. */
  readonly analysis: Analysis;
}

/** New times as the text would state them, proven by analysing that text. */
export interface RetimedText {
  readonly edits: TextEdits;
  readonly changes: readonly TimeChange[];
  readonly text: string;
  readonly analysis: Analysis;
}

export interface Retimed {
  readonly status: "retimed";
  readonly fitted: FittedMove;
  /** As it will play: from the written text, or as fitted where it can't be written. */
  readonly trajectory: Trajectory;
  readonly shares: readonly LimitShare[];
  readonly written: RetimedText | { readonly reason: string };
  /** Errors that are left at the new times. */
  readonly remaining: readonly PlacedFinding[];
  /** Those of them that were none at the old. */
  readonly fresh: readonly PlacedFinding[];
}

/** The move cannot be fitted, and why. */
export interface NotRetimed {
  readonly status: "not-retimed";
  readonly reason: string;
}

/** How often written times are lengthened until every limit holds with what rounding did. */
const MOST_NUDGES = 12;
/** By this share more than needed, as rounding takes part of it. */
const NUDGE = 2e-4;

/**
 * Fits a move to its limits and writes its new times into its text. What is written is analysed as a whole: where rounding
 * broke a limit, the ways that lack time get a little more.
 */
export function* retimeText(document: MoveDocument, fit: Fit): Task<Retimed | NotRetimed> {
  const { move, trajectory } = document.analysis;
  if (!move || !trajectory) return { status: "not-retimed", reason: "Nothing can be computed of this move yet." };
  if (keyFieldsOf(document.tree).length !== move.keys.length) {
    return { status: "not-retimed", reason: "A key of the text could not be read: mend it first." };
  }
  const fitted = yield* fitMove(move, fit, stepsOf(document, move), trajectory);
  if (fitted.status !== "fitted") return { status: "not-retimed", reason: unfittedReason(fitted, move) };
  const written = yield* writeProven(document, move, fitted);
  const before = errorsOf(document.analysis);
  if (!("analysis" in written)) {
    const { trajectory: after, shares } = fitted;
    return { status: "retimed", fitted, trajectory: after, shares, written, remaining: [], fresh: [] };
  }
  const remaining = errorsOf(written.analysis);
  return {
    status: "retimed",
    fitted,
    trajectory: written.analysis.trajectory!,
    shares: yield* limitShares(written.analysis.trajectory!),
    written,
    remaining,
    fresh: remaining.filter((one) => !before.some((other) => isSame(one, other))),
  };
}

const errorsOf = (analysis: Analysis): PlacedFinding[] =>
  findingsOf(analysis).filter(({ severity }) => severity === "error");

const isSame = (one: PlacedFinding, other: PlacedFinding): boolean =>
  one.code === other.code && one.axis === other.axis && one.key === other.key;

/** What played ways are whole numbers of, so that none is longer than it needs to be because of its notation [s]. */
function stepsOf({ tree }: MoveDocument, move: ResolvedMove): number {
  // Where keys state speeds, played times lie on no grid.
  if (move.keys.some((key) => key.speed)) return 0;
  const steps = keyFieldsOf(tree).flatMap(({ at, after }) => [at, after].flatMap((one) => (one ? [one.style] : [])));
  return Math.max(0, ...steps.map((style) => stepOf(style, move.rate))) / move.speed;
}

function* writeProven(
  { file, text, tree, sources }: MoveDocument,
  move: ResolvedMove,
  fitted: FittedMove,
): Task<RetimedText | { readonly reason: string }> {
  const memo = createMemo();
  let target = fitted.move;
  for (let nudges = 0; nudges <= MOST_NUDGES; nudges++) {
    const put = writeTimes({ text, tree, move }, target);
    if (!put.ok) return { reason: put.reason };
    const changed = applyEdits(text, put.edits);
    const analysis = yield* analyse(file, withText(sources, file, changed), memo);
    const { trajectory } = analysis;
    if (!trajectory || trajectory.move.keys.length !== move.keys.length) {
      return {
        reason: `the times cannot be read back: ${errorsOf(analysis)[0]?.message ?? "the move is not computed"}`,
      };
    }
    const shares = yield* limitShares(trajectory);
    if (shares.every(({ share }) => share <= 1 + LIMIT_SLACK)) {
      return { edits: put.edits, changes: put.changes, text: changed, analysis };
    }
    target = yield* nudged(fitted, target, trajectory);
  }
  return { reason: "no times were found that keep every limit in this notation; write times in seconds" };
}

/** A little more time where the written text lacks it. */
function* nudged({ fit }: FittedMove, target: ResolvedMove, trajectory: Trajectory): Task<ResolvedMove> {
  if (fit === "whole") return scaledMove(target, 1 + NUDGE);
  const needs = yield* needsByKey(trajectory, timingOf(trajectory.move));
  const { ways, holds } = timingOf(target);
  return withTiming(target, { ways: ways.map((way, i) => way * (1 < needs[i] ? needs[i] + NUDGE : 1)), holds });
}

const withText = (sources: Sources, file: FileId, text: string): Sources => ({
  read: (other) => (other === file ? { state: "text", text } : sources.read(other)),
});
