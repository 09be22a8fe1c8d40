import { sameData } from "../../base/same-data.ts";
import type { FileId } from "../../base/span.ts";
import { fieldChanges } from "../fields/field-changes.ts";
import { sameNumber, type SameNames } from "../fields/said-same.ts";
import type { KeyReview, Sides } from "../review.ts";
import type { ReviewSide } from "../review-side.ts";
import { readingOf } from "../reading.ts";
import { matchKeys, type KeyPair } from "./match-keys.ts";
import { readKeys, type ReadKey } from "./read-keys.ts";

/** Keys of both sides of one move, matched. */
export interface KeysCompared {
  /** Those that are another in some way, in the order of time. */
  readonly keys: readonly KeyReview[];
  /** How the side after has the part of a path that leads to a key before: see `elementOf`. */
  readonly parts: ReadonlyMap<string, string>;
}

/** What became of each key; of a move that only one side has, nothing. */
export function reviewKeys(before: ReviewSide, after: ReviewSide, names: SameNames): KeysCompared {
  const was = readKeys(before, (kind, name) => names.name(kind, name));
  const is = readKeys(after, (_, name) => name);
  const pairs = matchKeys(was, is, names);
  const isPlain = names.isPlain && isReadAlike(before, after);
  const sides = {
    before: { file: before.analysis.file, text: before.text },
    after: { file: after.analysis.file, text: after.text },
  };
  const parts = new Map(pairs.flatMap(({ before: a, after: b }) => (a && b ? [[a.part, b.part] as const] : [])));
  return { keys: pairs.flatMap((pair) => reviewOf(pair, sides, names, isPlain) ?? []), parts };
}

/** True when the same text of a key says the same on both sides. */
function isReadAlike(before: ReviewSide, after: ReviewSide): boolean {
  const [was, is] = [before, after].map(readingOf);
  const axes = [before, after].flatMap(({ analysis: { move } }) => move?.axes ?? []);
  return (
    sameData(was.rate, is.rate) &&
    was.startFrame === is.startFrame &&
    axes.every(({ name }) => was.axisType(name) === is.axisType(name))
  );
}

interface Texts {
  readonly before: { readonly file: FileId; readonly text: string };
  readonly after: { readonly file: FileId; readonly text: string };
}

function reviewOf({ before, after }: KeyPair, texts: Texts, names: SameNames, isPlain: boolean): KeyReview | undefined {
  const place: KeyReview["place"] = {
    ...(before ? { before: { file: texts.before.file, span: before.span } } : {}),
    ...(after ? { after: { file: texts.after.file, span: after.span } } : {}),
  };
  const time = { ...timesOf(before, after), dimension: "time" as const };
  if (!before || !after) {
    const key = (after ?? before)?.label ?? "";
    return { key, state: after ? "added" : "removed", time, fields: [], place };
  }
  // What an alias stands for is written elsewhere.
  const isSame = isPlain && before.text === after.text && !before.text.includes("*");
  const fields = isSame
    ? []
    : fieldChanges({ ...texts.before, said: before.said() }, { ...texts.after, said: after.said() }, names);
  const isRenamed = before.name !== after.name;
  // A move that is played slower as a whole moves no key in it.
  const isMoved = !sameNumber(before.written, after.written);
  if (!isRenamed && !isMoved && fields.length === 0) return undefined;
  return {
    key: after.label,
    state: "changed",
    ...(isRenamed ? { renamedFrom: before.label } : {}),
    time,
    fields,
    place,
  };
}

function timesOf(before: ReadKey | undefined, after: ReadKey | undefined): Sides<number> {
  return {
    ...(before && Number.isFinite(before.played) ? { before: before.played } : {}),
    ...(after && Number.isFinite(after.played) ? { after: after.played } : {}),
  };
}
