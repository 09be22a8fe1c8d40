import type { TextCure } from "../../../core/base/problem.ts";
import type { Task } from "../../../core/base/task.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import { applyEdits } from "../../../core/edit/apply-edits.ts";
import { roundAway, valueStep } from "../../../core/edit/rounded-value.ts";
import { passVariant } from "../../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../../core/motion/plan.ts";
import { groundOf, lookAt, missingAmong, type Ground } from "./clear-ground.ts";
import { outcomeOf } from "./clear-outcome.ts";
import { proveClear, type Proof } from "./clear-proof.ts";
import { valueEdit, valuesAround, type Counting, type StatedValue } from "./clear-values.ts";
import { changeTitle, cureTitle } from "./clear-words.ts";
import { OF_SPACE } from "./near.ts";
import { segmentOf } from "./stretch-search.ts";
import type { View } from "../view.ts";

/** One value of the text, changed by as little as was found to do: the finding is gone, and nothing new is wrong. */
export interface Clearing {
  readonly title: string;
  readonly edits: TextCure["edits"];
  /** Whether what is aimed at stays where it is in the picture. */
  readonly keepsPicture: boolean;
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
/** Share of what is missing: what changes by less has no effect. */
const NO_EFFECT = 1e-5;
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
  readonly proof: Proof;
}

interface Search {
  readonly view: View;
  readonly ground: Ground;
  plans: number;
  proofs: number;
}

/**
 * Values that cure a finding, smallest change first, those of keys before those of the whole move; none where no single value does it.
 * Every one is proven by analysing the text with it.
 */
export function* findClearings(view: View, finding: PlacedFinding): Task<readonly Clearing[]> {
  const ground = groundOf(view, finding);
  if (!ground) return [];
  const search: Search = { view, ground, plans: 0, proofs: 0 };
  const document = { text: view.text, tree: view.tree, move: ground.solved.move };
  const stated = valuesAround(document, ground.key, countingFor(finding));
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
  for (const one of found) out.push(yield* clearingOf(ground, one));
  return out;
}

const OF_LENS: ReadonlySet<PlacedFinding["code"]> = new Set<PlacedFinding["code"]>([
  "focus-near",
  "focus-speed",
  "soft-subject",
  "expect",
]);

/** What stands too near is led past: the framing turns the head alone, which matters to what the picture shows. */
const countingFor = ({ code }: PlacedFinding): Counting => ({
  framing: !OF_SPACE.has(code) || code === "in-view",
  lens: OF_LENS.has(code),
});

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
      if (missing === undefined || now * (1 - NO_EFFECT) <= missing) continue;
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
  if (isBeyond(stated, value) || MOST_PLANS <= search.plans) return undefined;
  search.plans += 1;
  const nears = yield* lookAt(ground, textWith(ground, stated, value));
  return nears && missingAmong(ground, nears);
}

/** Out of the range, and no nearer to it than the value that stands there. */
const isBeyond = ({ value: now, low, high }: StatedValue, value: number): boolean =>
  (value < low && value <= now) || (high < value && now <= value);

const textWith = ({ text }: Ground, stated: StatedValue, value: number): string =>
  applyEdits(text, [valueEdit(stated, value)]);

/** The change with the analysis of its text, if the finding is gone by that and no error is new. */
function* proven(search: Search, stated: StatedValue, value: number): Task<Found | undefined> {
  const { view, ground } = search;
  if (MOST_PROOFS <= search.proofs) return undefined;
  search.proofs += 1;
  const proof = yield* proveClear(ground, view.analysis, textWith(ground, stated, value));
  return proof && { stated, value, proof };
}

function* clearingOf(ground: Ground, { stated, value, proof }: Found): Task<Clearing> {
  const outcome = yield* provenOutcome(ground, proof);
  const title = cureTitle(changeTitle(stated, value), outcome, proof.warnings);
  return { title, edits: [valueEdit(stated, value)], keepsPicture: !stated.isFraming };
}

/** What is so by a proof, where the finding was: of the pass that it was found in. */
export function* provenOutcome({ own, window, solved }: Ground, { analysis }: Proof): Task<string> {
  const { move, trajectory } = analysis;
  if (!move || !trajectory) return "";
  const pass = move.passes.find(({ name }) => name === own.pass);
  const motion = pass ? yield* planTrajectory(passVariant(move, pass)) : trajectory;
  // What is beside something moves along in the whole window, a limit of an axis is of its own segment.
  const between = segmentOf(solved.move, OF_SPACE.has(own.code) ? window : own.time) ?? { from: 0, to: 0 };
  return yield* outcomeOf(own, motion, between);
}
