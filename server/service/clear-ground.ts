import type { FindingCode } from "../../core/base/finding-code.ts";
import type { FileId } from "../../core/base/span.ts";
import type { Task } from "../../core/base/task.ts";
import { analyseText, createMemo, type AnalysisMemo } from "../../core/checks/analyse.ts";
import { checkContext } from "../../core/checks/check-context.ts";
import type { CheckContext } from "../../core/checks/check.ts";
import type { Finding, PlacedFinding } from "../../core/checks/finding.ts";
import { peopleNear } from "../../core/checks/people/people-near.ts";
import { peopleSpace } from "../../core/checks/people/people-space.ts";
import { createSeen, type Seen } from "../../core/checks/seen.ts";
import { clearance } from "../../core/checks/space/clearance.ts";
import { floor } from "../../core/checks/space/floor.ts";
import { inView } from "../../core/checks/space/in-view.ts";
import { selfClearance } from "../../core/checks/space/self-clearance.ts";
import type { Sources } from "../../core/model/sources.ts";
import { leavesAt } from "../../core/motion/key-timing.ts";
import { passVariant } from "../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import type { Reach } from "./clear-words.ts";
import type { Solved, View } from "./view.ts";

/** What is clear is looked for as far as this from what it was too near to: share of the limit, and [m] beyond that. */
const FARTHER = 1.5;
const FARTHER_BY = 0.05;

type Look = (context: CheckContext) => Task<readonly Finding[]>;

/** What finds each again in a move: its own check alone. Of people only how near they are, not how fast what is near moves. */
const LOOKS: Readonly<Partial<Record<FindingCode, Look>>> = {
  clearance: clearance.run,
  "self-clearance": selfClearance.run,
  floor: floor.run,
  "in-view": inView.run,
  people: function* (context) {
    const around = peopleSpace(context.move);
    return around ? yield* peopleNear(context, around) : [];
  },
};

/** A finding of space as both a check alone and a whole analysis tell it. */
export interface Near {
  readonly code: FindingCode;
  readonly part: string;
  readonly target: string;
  readonly time: { readonly from: number; readonly to: number };
  /** What lacks to the limit [m], or what is in the picture [px]. */
  readonly missing: number;
  /** [m], [px] */
  readonly measured: number;
  readonly pass?: string;
}

/** True for findings that another place of the rig can cure, at a time of the take. */
export function isOfSpace(finding: PlacedFinding): boolean {
  const { code, time, unit, bodies, allowed } = finding;
  const isDistance = code === "in-view" ? unit === "px" : unit === "m";
  return LOOKS[code] !== undefined && isDistance && !!time && !!bodies && allowed === undefined;
}

/** A finding of space among others of the same thing, and all that trials of other texts need. */
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
  if (!solved || solved.stale || !isOfSpace(finding) || !own) return undefined;
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

/** Placed findings of space, allowed ones too: their figures are in metres and px either way. */
export function nearsOf(findings: readonly PlacedFinding[]): readonly Near[] {
  return findings.flatMap(({ code, bodies, time, value, limit, unit, pass }): Near[] => {
    if (!LOOKS[code] || !bodies || !time || value === undefined || unit === "m/s") return [];
    return [nearOf(code, bodies, time, value, limit ?? 0, pass)];
  });
}

function nearOf(
  code: FindingCode,
  { part, target }: NonNullable<PlacedFinding["bodies"]>,
  time: Near["time"],
  measured: number,
  limit: number,
  pass: string | undefined,
): Near {
  return { code, part, target, time, missing: code === "in-view" ? measured : limit - measured, measured, pass };
}

/** Of the same thing: another part of the rig may be the nearest to it, but for parts that meet each other. */
const isAlike = (one: Near, other: Near): boolean =>
  one.code === other.code &&
  one.target === other.target &&
  one.pass === other.pass &&
  (one.code !== "self-clearance" || one.part === other.part);

const meets = (one: Near["time"], other: Near["time"]): boolean => one.from <= other.to && other.from <= one.to;

/**
 * What is left of the finding among those of a changed move: the worst that lacks, 0 where it is gone. It is gone when there is
 * one less of its kind around its key, and none at its time.
 */
export function missingAmong({ own, window, inWindow }: Ground, nears: readonly Near[]): number {
  const around = nears.filter((near) => isAlike(near, own) && meets(near.time, window));
  const there = around.filter(({ time }) => meets(time, own.time));
  if (there.length === 0 && around.length < inWindow) return 0;
  return Math.max(0, ...(there.length > 0 ? there : around).map(({ missing }) => missing));
}

/** True where the move has one such finding less. */
export const isOneLess = ({ own, inMove }: Ground, nears: readonly Near[]): boolean =>
  nears.filter((near) => isAlike(near, own)).length < inMove;

/** The sources with another text for the move. */
export const sourcesWith = ({ sources, file }: Ground, text: string): Sources => ({
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

/**
 * How near it comes in the window once it is clear, and with which part; `undefined` where that is farther than is looked.
 *
 * @param limit [m] Of the finding.
 */
export function* reachOf(
  { own, window, seen }: Ground,
  trajectory: Trajectory,
  limit: number,
): Task<Reach | undefined> {
  const bound = limit * FARTHER + FARTHER_BY;
  const { move } = trajectory;
  const tolerance = { ...move.tolerance, clearance: bound, selfClearance: bound };
  const nears = yield* nearsIn(own, { ...trajectory, move: { ...move, tolerance } }, seen);
  const around = nears.filter((near) => isAlike(near, own) && meets(near.time, window) && limit <= near.measured);
  const [nearest] = around.sort((one, other) => one.measured - other.measured);
  return nearest && { part: nearest.part, distance: nearest.measured };
}

function* nearsIn({ code, pass }: Near, trajectory: Trajectory, seen: Seen): Task<readonly Near[]> {
  const look = LOOKS[code];
  const findings = look ? yield* look(checkContext(trajectory, seen, [])) : [];
  return findings.flatMap(({ facts, time, measured, limit = 0 }) => {
    if (!time || measured === undefined) return [];
    return [nearOf(code, { part: String(facts.part), target: String(facts.target) }, time, measured, limit, pass)];
  });
}
