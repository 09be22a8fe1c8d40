import type { TextCure } from "../../core/base/problem.ts";
import type { Task } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { applyEdits } from "../../core/edit/apply-edits.ts";
import { roundAway, valueStep } from "../../core/edit/rounded-value.ts";
import { passVariant } from "../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import {
  groundOf,
  isOneLess,
  lookAt,
  missingAmong,
  nearsOf,
  reachOf,
  sourcesWith,
  type Ground,
} from "./clear-ground.ts";
import { valueEdit, valuesAround, type StatedValue } from "./clear-values.ts";
import { clearTitle } from "./clear-words.ts";
import { findingsOf, type View } from "./view.ts";

/** One value of the text, changed by as little as was found to do: the finding is gone, and nothing new is wrong. */
export interface Clearing {
  readonly title: string;
  readonly edits: TextCure["edits"];
}

/** Most that are offered, and so many of what a key says make what holds for the whole move uncalled for. */
const MOST_OFFERS = 3;
const ENOUGH = 2;
/** Plans of the move with another value that one search may take, and whole analyses. */
const MOST_PLANS = 140;
const MOST_PROOFS = 12;
/** A value is changed by so much to see what it does, SI. */
const PROBE = { length: 0.01, angle: Math.PI / 180, number: 0.01 } as const;
/** The same where a small change shows nothing. */
const LARGE = 10;
/** [m], [px] What changes by less has no effect. */
const NO_EFFECT = 1e-6;
/** What the effect asks for is tried so many times over: it bends, and how deep round bodies overlap is known to 5 % only. */
const GROWTH = [1.05, 1.3, 1.7, 2.5] as const;
/** Halvings between a change that is too little and one that does. */
const HALVINGS = 8;

/** A value and the way to change it, with the change that its effect asks for [SI]. */
interface Candidate {
  readonly stated: StatedValue;
  readonly way: 1 | -1;
  readonly need: number;
}

interface Found {
  readonly stated: StatedValue;
  readonly value: number;
  readonly analysis: Analysis;
}

interface Search {
  readonly ground: Ground;
  readonly before: ReadonlyMap<string, number>;
  plans: number;
  proofs: number;
}

/**
 * Values that cure a finding of space, smallest change first, those of keys before those of the whole move; none where it is no such finding or no single value does it.
 * Every one is proven by analysing the text with it.
 */
export function* findClearings(view: View, finding: PlacedFinding): Task<readonly Clearing[]> {
  const ground = groundOf(view, finding);
  if (!ground) return [];
  const search: Search = { ground, before: errorCounts(view.analysis), plans: 0, proofs: 0 };
  const stated = valuesAround(
    { text: view.text, tree: view.tree, move: ground.solved.move },
    ground.key,
    finding.code === "in-view",
  );
  const found: Found[] = [];
  for (const isOfMove of [false, true]) {
    if (ENOUGH <= found.length) break;
    const candidates = yield* candidatesAmong(
      search,
      stated.filter((one) => one.isOfMove === isOfMove),
    );
    for (const candidate of candidates) {
      if (MOST_OFFERS <= found.length) break;
      const one = yield* leastChange(search, candidate);
      if (one) found.push(one);
    }
  }
  found.sort((one, other) => Number(one.stated.isOfMove) - Number(other.stated.isOfMove) || share(one) - share(other));
  const out: Clearing[] = [];
  for (const one of found) out.push(yield* clearingOf(ground, one, finding.limit ?? 0));
  return out;
}

const share = ({ stated, value }: Found): number => Math.abs(value - stated.value) / stated.whole;

/** What helps, by the share of a whole change that it would take. */
function* candidatesAmong(search: Search, stated: readonly StatedValue[]): Task<readonly Candidate[]> {
  const candidates: Candidate[] = [];
  for (const one of stated) {
    const candidate = yield* probe(search, one);
    if (candidate && candidate.need <= one.whole) candidates.push(candidate);
  }
  return candidates.sort((one, other) => one.need / one.stated.whole - other.need / other.stated.whole);
}

/** Which way a value helps, and how far it would have to go by that. */
function* probe(search: Search, stated: StatedValue): Task<Candidate | undefined> {
  const now = search.ground.own.missing;
  for (const step of stepsFor(search.ground, stated)) {
    for (const way of [1, -1] as const) {
      const missing = yield* missingWith(search, stated, stated.value + way * step);
      if (missing === undefined || now - NO_EFFECT <= missing) continue;
      // Gone at once, the step is more than is needed: the least is found between.
      return { stated, way, need: missing === 0 ? step / GROWTH[GROWTH.length - 1] : (step * now) / (now - missing) };
    }
  }
  return undefined;
}

/** What reaches in from one edge to beyond the middle reaches in no farther: only a larger change shows there. */
function stepsFor({ own, solved }: Ground, { dimension }: StatedValue): readonly number[] {
  const step = PROBE[dimension];
  const most = Math.min(...solved.move.optics.resolution) / 2;
  return own.code === "in-view" && most - 1 < own.measured ? [step, LARGE * step] : [step];
}

/** The smallest change that does, to the fineness in which it is written. */
function* leastChange(search: Search, { stated, way, need }: Candidate): Task<Found | undefined> {
  let low = 0;
  for (const growth of GROWTH) {
    const change = growth * need;
    const value = rounded(stated, way, change);
    const missing = yield* missingWith(search, stated, value);
    if (missing === undefined) return undefined;
    if (missing === 0) {
      const least = yield* halved(search, { stated, way, need }, low, Math.abs(value - stated.value));
      return yield* proven(search, stated, rounded(stated, way, least));
    }
    low = change;
  }
  return undefined;
}

function* halved(search: Search, { stated, way }: Candidate, low: number, high: number): Task<number> {
  let [short, enough] = [low, high];
  for (let step = 0; step < HALVINGS && valueStep(stated.style) < enough - short; step++) {
    const middle = (short + enough) / 2;
    const value = rounded(stated, way, middle);
    if ((yield* missingWith(search, stated, value)) === 0) enough = Math.min(enough, Math.abs(value - stated.value));
    else short = middle;
  }
  return enough;
}

const rounded = ({ value, style }: StatedValue, way: 1 | -1, change: number): number =>
  roundAway(value + way * change, way, style);

/** What is missing with another value; `undefined` out of its range, for a text that is no move, and once all plans are made. */
function* missingWith(search: Search, stated: StatedValue, value: number): Task<number | undefined> {
  const { ground } = search;
  if (value < stated.low || stated.high < value || MOST_PLANS <= search.plans) return undefined;
  search.plans += 1;
  const nears = yield* lookAt(ground, textWith(ground, stated, value));
  return nears && missingAmong(ground, nears);
}

const textWith = ({ text }: Ground, stated: StatedValue, value: number): string =>
  applyEdits(text, [valueEdit(stated, value)]);

/** The change with the analysis of its text, if the finding is gone by that and no error is new. */
function* proven(search: Search, stated: StatedValue, value: number): Task<Found | undefined> {
  const { ground, before } = search;
  if (MOST_PROOFS <= search.proofs) return undefined;
  search.proofs += 1;
  const text = textWith(ground, stated, value);
  const analysis = yield* analyse(ground.file, sourcesWith(ground, text), ground.memo);
  if (!analysis.move || !analysis.trajectory) return undefined;
  const nears = nearsOf(analysis.motionFindings);
  if (0 < missingAmong(ground, nears) || !isOneLess(ground, nears)) return undefined;
  const isNew = [...errorCounts(analysis)].some(([name, count]) => (before.get(name) ?? 0) < count);
  return isNew ? undefined : { stated, value, analysis };
}

/** How many errors there are of each kind. */
function errorCounts(analysis: Analysis): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { code, severity, axis, bodies, pass } of findingsOf(analysis)) {
    const name = JSON.stringify([code, axis, bodies?.target, pass]);
    if (severity === "error") counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  return counts;
}

function* clearingOf(ground: Ground, { stated, value, analysis }: Found, limit: number): Task<Clearing> {
  const { own } = ground;
  const edits = [valueEdit(stated, value)];
  const pass = analysis.move?.passes.find(({ name }) => name === own.pass);
  const trajectory =
    pass && analysis.move ? yield* planTrajectory(passVariant(analysis.move, pass)) : analysis.trajectory;
  const isDistance = own.code !== "in-view" && 0 < limit;
  const reach = trajectory && isDistance ? yield* reachOf(ground, trajectory, limit) : undefined;
  return { title: clearTitle(stated, value, own, limit, reach), edits };
}
