import type { FindingCode } from "../../../core/base/finding-code.ts";
import type { FileId } from "../../../core/base/span.ts";
import type { Task } from "../../../core/base/task.ts";
import { analyseText, createMemo, type AnalysisMemo } from "../../../core/checks/analyse.ts";
import { checkContext } from "../../../core/checks/check-context.ts";
import type { CheckContext } from "../../../core/checks/check.ts";
import type { Finding, PlacedFinding } from "../../../core/checks/finding.ts";
import { gatherFindings } from "../../../core/checks/gather.ts";
import { peopleNear } from "../../../core/checks/people/people-near.ts";
import { peopleSpace } from "../../../core/checks/people/people-space.ts";
import { CHECKS } from "../../../core/checks/registry.ts";
import { createSeen, type Seen } from "../../../core/checks/seen.ts";
import type { Sources } from "../../../core/model/sources.ts";
import { leavesAt } from "../../../core/motion/key-timing.ts";
import { passVariant } from "../../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../../core/motion/plan.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";
import { isAlike, isComparable, meets, nearsOf, nearsOfData, OF_SPACE, type Near } from "./near.ts";
import type { Solved, View } from "../view.ts";

/** Findings that another place of the rig, or another value of a key, may cure; those between two things besides. */
const OF_KEYS: ReadonlySet<FindingCode> = new Set<FindingCode>([
  "axis-range",
  "axis-speed",
  "axis-accel",
  "axis-jerk",
  "out-of-reach",
  "aim-error",
  "out-of-frame",
  "aim-spin",
  "focus-near",
  "focus-speed",
  "soft-subject",
  "judder",
  "blur",
  "tip-over",
  "expect",
]);

type Look = (context: CheckContext) => Task<readonly Finding[]>;

/** What finds each again in a move: its own check alone. Of people only how near they are, not how fast what is near moves. */
function lookFor(code: FindingCode): Look | undefined {
  return code === "people" ? lookAtPeople : CHECKS.find((check) => check.code === code)?.run;
}

function* lookAtPeople(context: CheckContext): Task<readonly Finding[]> {
  const around = peopleSpace(context.move);
  return around ? yield* peopleNear(context, around) : [];
}

/** True for findings that another value of a key may cure, at a time of the take. */
export function isClearable(finding: PlacedFinding): boolean {
  const { code, time, unit, bodies, allowed } = finding;
  if (!time || allowed !== undefined) return false;
  if (!OF_SPACE.has(code)) return OF_KEYS.has(code);
  return bodies !== undefined && (code === "in-view" ? unit === "px" : unit === "m");
}

/** A finding among others of the same thing, and all that trials of other texts need. */
export interface Ground {
  readonly file: FileId;
  readonly text: string;
  readonly sources: Sources;
  readonly solved: Solved;
  readonly own: Near;
  /** Key by position that leads to it. */
  readonly key: number;
  /** [s] From the key before to the key after: what moves along with it, moves in here. */
  readonly window: { readonly from: number; readonly to: number };
  /** How many such findings there are in the window as the text stands, and in the whole move. */
  readonly inWindow: number;
  readonly inMove: number;
  readonly memo: AnalysisMemo;
  readonly seen: Seen;
}

export function groundOf(view: View, finding: PlacedFinding): Ground | undefined {
  const { solved, file, text, sources } = view;
  const [own] = nearsOf([finding]);
  if (!solved || solved.stale || !isClearable(finding) || !own) return undefined;
  const { keys } = solved.move;
  const key = keys.findIndex(({ label }) => label === finding.key);
  if (key < 0) return undefined;
  const window = {
    from: Math.min(keys[Math.max(0, key - 1)].time, own.time.from),
    to: Math.max(leavesAt(keys[Math.min(keys.length - 1, key + 1)]), own.time.to),
  };
  const alike = nearsOf(solved.findings).filter((near) => isAlike(near, own));
  const inWindow = alike.filter((near) => meets(near.time, window)).length;
  const common = { file, text, sources, solved, own, key, window, inWindow, inMove: alike.length };
  return { ...common, memo: createMemo(), seen: createSeen() };
}

/**
 * What is left of the finding among those of a changed move: the worst that lacks, 0 where it is gone. It is gone when there is
 * one less of its kind around its key, and none at its time. `Infinity` where what is left cannot be compared with it.
 */
export function missingAmong({ own, window, inWindow }: Ground, nears: readonly Near[]): number {
  const around = nears.filter((near) => isAlike(near, own) && meets(near.time, window));
  const there = around.filter(({ time }) => meets(time, own.time));
  if (there.length === 0 && around.length < inWindow) return 0;
  const left = there.length > 0 ? there : around;
  return Math.max(0, ...left.map((near) => (isComparable(near, own) ? near.missing : Infinity)));
}

/** True where the move has one such finding less. */
export const isOneLess = ({ own, inMove }: Ground, nears: readonly Near[]): boolean =>
  nears.filter((near) => isAlike(near, own)).length < inMove;

/** The sources with another text for the move. */
export const sourcesWith = ({ sources, file }: Pick<Ground, "sources" | "file">, text: string): Sources => ({
  read: (other) => (other === file ? { state: "text", text } : sources.read(other)),
});

/** What its check alone finds in a changed text; `undefined` for one that is no move. */
export function* lookAt(ground: Ground, text: string): Task<readonly Near[] | undefined> {
  const { file, memo, own, solved, seen } = ground;
  const { move: stated, unread } = analyseText(file, sourcesWith(ground, text), memo);
  if (!stated || unread.length > 0) return undefined;
  yield;
  const pass = stated.passes.find(({ name }) => name === own.pass);
  const trajectory = yield* planTrajectory(pass ? passVariant(stated, pass) : stated, solved.trajectory.record);
  return yield* nearsIn(own, trajectory, seen);
}

/** What the check of a finding alone finds in a motion. */
export function* nearsIn({ code, pass }: Near, trajectory: Trajectory, seen: Seen): Task<readonly Near[]> {
  const look = lookFor(code);
  const findings = look ? gatherFindings(yield* look(checkContext(trajectory, seen, []))) : [];
  return nearsOfData(findings, pass);
}
