import type { Dimension } from "../base/dimension.ts";
import type { FileId, Place } from "../base/span.ts";
import { displayUnit, toDisplay } from "../base/units.ts";
import type {
  Amount,
  AxisEffect,
  DocumentReview,
  Effects,
  FieldChange,
  FindingReview,
  KeyReview,
  LargestChange,
  MoveReview,
  Review,
  Sides,
} from "../review/review.ts";
import { summaryLine } from "./review-summary.ts";
import type { ReviewWording } from "./review-wording.ts";
import { worstMovesFirst } from "./review-weight.ts";

/** Version of the shape below. It grows when a reader of the old shape would break. */
export const REVIEW_VERSION = 1;

type Json = Readonly<Record<string, unknown>>;

/**
 * A review as plain data for programs, in the order in which it is read: files by their names, figures in the units that people
 * read (m, deg, s, px, %), lines and columns from 0. What is absent is left out. `docs/review.md` tells the shape.
 */
export function reviewAnswer(review: Review, wording: ReviewWording): Json {
  const { before, after, notes } = wording;
  const summary = summaryLine(review)
    .map(({ text }) => text)
    .join("");
  const moves = worstMovesFirst(review.moves).map((move) => moveAnswer(move, wording));
  const documents = review.documents.map((document) => documentAnswer(document, wording));
  return { version: REVIEW_VERSION, before, after, summary, moves, documents, notes };
}

function moveAnswer(move: MoveReview, wording: ReviewWording): Json {
  const { title, state, motion, isTextSame, problem, causes, keys, fields, effects, timeline, findings } = move;
  return {
    ...pathAnswer(move, wording),
    title,
    state,
    motion,
    textSame: isTextSame,
    ...(problem.before === undefined && problem.after === undefined ? {} : { problem }),
    causes: causes.map((file) => wording.nameOf(file)),
    fields: fields.map((field) => fieldAnswer(field, wording)),
    keys: keys.map((key) => keyAnswer(key, wording)),
    ...(effects ? { effects: effectsAnswer(effects) } : {}),
    ...(timeline ? { timeline } : {}),
    findings: findings.map((finding) => findingAnswer(finding, wording)),
  };
}

function documentAnswer(document: DocumentReview, wording: ReviewWording): Json {
  const { kind, state, isMeaningSame, fields, findings, moves } = document;
  return {
    ...pathAnswer(document, wording),
    ...(kind === undefined ? {} : { kind }),
    state,
    meaningSame: isMeaningSame,
    fields: fields.map((field) => fieldAnswer(field, wording)),
    findings: findings.map((finding) => findingAnswer(finding, wording)),
    moves: moves.map((file) => wording.nameOf(file)),
  };
}

function pathAnswer({ file, renamedFrom, state }: MoveReview | DocumentReview, { nameOf }: ReviewWording): Json {
  const path = state === "removed" ? nameOf(file, "before") : nameOf(file);
  return { path, ...(renamedFrom === undefined ? {} : { renamedFrom: nameOf(renamedFrom, "before") }) };
}

function keyAnswer({ key, state, renamedFrom, time, fields, place }: KeyReview, wording: ReviewWording): Json {
  return {
    key,
    state,
    ...(renamedFrom === undefined ? {} : { renamedFrom }),
    time: amountAnswer(time),
    fields: fields.map((field) => fieldAnswer(field, wording)),
    ranges: rangesAnswer(place, wording),
  };
}

function fieldAnswer({ field, was, is, by, dimension, place }: FieldChange, wording: ReviewWording): Json {
  const change =
    by === undefined || dimension === undefined ? {} : { by: shown(by, dimension), unit: unitOf(dimension) };
  return { field, ...defined({ was, is }), ...change, ranges: rangesAnswer(place, wording) };
}

function rangesAnswer(places: Sides<Place>, { nameOf, rangeOf }: ReviewWording): Json {
  const nameIn = (file: FileId, side: "before" | "after"): string =>
    side === "before" ? nameOf(file, side) : nameOf(file);
  const one = (side: "before" | "after"): Json | undefined => {
    const place = places[side];
    return place && { path: nameIn(place.file, side), ...rangeOf(place, side) };
  };
  return defined({ before: one("before"), after: one("after") });
}

function effectsAnswer({ duration, axes, path, framing, focus, clearance, passError }: Effects): Json {
  return {
    duration: amountAnswer(duration),
    axes: axes.map(axisAnswer),
    ...(path ? { path: { byTime: largestAnswer(path.byTime), byShare: largestAnswer(path.byShare) } } : {}),
    framing: framing.map(({ target, largest }) => ({ target, largest: largestAnswer(largest) })),
    ...(focus ? { focus: largestAnswer(focus) } : {}),
    ...(clearance ? { clearance: amountAnswer(clearance) } : {}),
    ...(passError ? { passError: amountAnswer(passError) } : {}),
  };
}

function axisAnswer({ axis, type, share, of, at, largest }: AxisEffect): Json {
  return { axis, type, share: amountAnswer(share), of, at, ...(largest ? { largest: largestAnswer(largest) } : {}) };
}

function findingAnswer({ state, code, element, finding }: FindingReview, { nameOf, rangeOf }: ReviewWording): Json {
  const { severity, message, place, key, axis, time, peak, value, limit, unit, allowed, pass } = finding;
  const range = rangeOf(place, state === "gone" ? "before" : "after");
  const rest = { key, axis, time, peak, value: finite(value), limit: finite(limit), unit, allowed, pass };
  const path = state === "gone" ? nameOf(place.file, "before") : nameOf(place.file);
  return { state, code, element, severity, message, path, range, ...defined(rest) };
}

const amountAnswer = ({ before, after, dimension }: Amount): Json => ({
  ...defined({ before: finite(shown(before, dimension)), after: finite(shown(after, dimension)) }),
  unit: unitOf(dimension),
});

const largestAnswer = ({ value, at, dimension }: LargestChange): Json => ({
  value: shown(value, dimension),
  unit: unitOf(dimension),
  at,
});

const unitOf = (dimension: Dimension): string => displayUnit(dimension).unit;

function shown<T extends number | undefined>(value: T, dimension: Dimension): T | number {
  return value === undefined ? value : toDisplay(value, dimension);
}

/** What is unbounded has no figure, and JSON no word for it. */
const finite = (value: number | undefined): number | undefined => (Number.isFinite(value) ? value : undefined);

const defined = (fields: Json): Json =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
