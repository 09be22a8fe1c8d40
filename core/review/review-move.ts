import { baseName } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import { SHAPES } from "../schema/documents.ts";
import { entryOf, valueOf } from "../syntax/tree.ts";
import { hasSameEffects } from "./effects/same-effects.ts";
import { effectsOf } from "./effects/effects.ts";
import { fieldChanges } from "./fields/field-changes.ts";
import type { SameNames } from "./fields/said-same.ts";
import { saidFields, type Renaming } from "./fields/said-fields.ts";
import { reviewKeys, type KeysCompared } from "./keys/review-keys.ts";
import { sameNames, sameThings, type SameThings } from "./match-names.ts";
import { isSameMotion } from "./motion/same-motion.ts";
import { readingOf } from "./reading.ts";
import type { FieldChange, MotionVerdict, MoveReview, Sides } from "./review.ts";
import { reviewFindings } from "./review-findings.ts";
import type { ReviewSide } from "./review-side.ts";

/** What is known of a change beyond its two sides. */
export interface ReviewAround {
  /** Files that were renamed, from before to after. */
  readonly renames?: ReadonlyMap<FileId, FileId>;
  /** Documents that the move names and that changed. */
  readonly causes?: readonly FileId[];
}

/**
 * What a change does to one move. A side is absent where there is no such move; one that can't be solved has its keys and
 * fields compared as far as they are read.
 */
export function* reviewMove(
  before: ReviewSide | undefined,
  after: ReviewSide | undefined,
  { renames = new Map(), causes = [] }: ReviewAround = {},
): Task<MoveReview> {
  const [was, is] = [before?.analysis.move, after?.analysis.move];
  const names = sameNames(was, is, renames);
  const { keys, parts } = before && after ? reviewKeys(before, after, names) : NO_KEYS;
  yield;
  const same = was && is ? sameThings(was, is) : NOTHING;
  const motion = yield* motionOf(before, after, same);
  const file = (after ?? before)?.analysis.file ?? "";
  const problem = { ...problemOf("before", before), ...problemOf("after", after) };
  const isSolved = problem.before === undefined && problem.after === undefined;
  const isIdle = motion === "same" && was && is && hasSameEffects(was, is, same);
  return {
    file,
    ...(before && after && before.analysis.file !== file ? { renamedFrom: before.analysis.file } : {}),
    title: titleOf(after ?? before),
    state: stateOf(before, after),
    motion,
    isTextSame: before !== undefined && before.text === after?.text,
    problem,
    keys,
    ...timelineOf(after ?? before),
    fields: before && after ? rootChanges(before, after, names) : [],
    ...(isSolved && !isIdle ? { effects: yield* effectsOf(withSides(before, after), same) } : {}),
    findings: reviewFindings(before, after, names, parts),
    causes,
  };
}

/** When the keys are, where the move is solved. */
function timelineOf(side: ReviewSide | undefined): Pick<MoveReview, "timeline"> {
  const { move, trajectory } = side?.analysis ?? {};
  return move && trajectory ? { timeline: move.keys.map(({ label, time }) => ({ key: label, at: time })) } : {};
}

const NO_KEYS: KeysCompared = { keys: [], parts: new Map() };

const NOTHING: SameThings = { axes: [], targets: [], turntables: [] };

const withSides = (before: ReviewSide | undefined, after: ReviewSide | undefined): Sides<ReviewSide> => ({
  ...(before ? { before } : {}),
  ...(after ? { after } : {}),
});

export const stateOf = (before: unknown, after: unknown): MoveReview["state"] =>
  before === undefined ? "added" : after === undefined ? "removed" : "both";

/** A move that only one side has is another motion, where that side can be solved. */
function* motionOf(
  before: ReviewSide | undefined,
  after: ReviewSide | undefined,
  same: SameThings,
): Task<MotionVerdict> {
  const [was, is] = [before?.analysis.trajectory, after?.analysis.trajectory];
  if ((before && !was) || (after && !is)) return "unknown";
  if (!was || !is) return "changed";
  return (yield* isSameMotion(was, is, same)) ? "same" : "changed";
}

/** Why a side can't be solved: what its text or its planning has to say first. */
function problemOf(side: keyof Sides<string>, of: ReviewSide | undefined): Sides<string> {
  if (!of || of.analysis.trajectory) return {};
  const { textFindings, motionFindings, unread } = of.analysis;
  if (unread.length > 0) return { [side]: `\`${unread[0]}\`, which it needs, is not read.` };
  const findings = [...textFindings, ...motionFindings];
  const worst = findings.find(({ severity }) => severity === "error") ?? findings[0];
  return { [side]: worst?.message ?? "Its text does not say enough to solve it." };
}

function titleOf(side: ReviewSide | undefined): string {
  if (!side) return "";
  const { analysis, tree } = side;
  const stated = valueOf(entryOf(tree?.root, "title")?.value);
  const written = stated?.kind === "scalar" && stated.value !== null ? String(stated.value).trim() : "";
  return analysis.move?.title ?? (written || baseName(analysis.file).replace(/\.move\.\w+$/i, ""));
}

/** What is another of the move outside of its keys. */
function rootChanges(before: ReviewSide, after: ReviewSide, names: SameNames): FieldChange[] {
  const said = (side: ReviewSide, renaming: Renaming) => ({
    file: side.analysis.file,
    text: side.text,
    said: saidFields(readingOf(side), SHAPES.move, side.tree?.root, renaming, ["keys"]),
  });
  return fieldChanges(
    said(before, (kind, name) => names.name(kind, name)),
    said(after, (_, name) => name),
    names,
  );
}
