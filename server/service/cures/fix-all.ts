import { DOCUMENT_CODES, type FindingCode } from "../../../core/base/finding-code.ts";
import type { Task } from "../../../core/base/task.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import { analyse, createMemo, type AnalysisMemo } from "../../../core/checks/analyse.ts";
import { findingsOf, type Analysis } from "../../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import { applyEdits, type TextEdits } from "../../../core/edit/apply-edits.ts";
import { composedEdits } from "../../../core/edit/composed-edits.ts";
import { sourcesWith } from "./clear-ground.ts";
import { moreOf } from "./clear-proof.ts";
import { findClearings } from "./clear-search.ts";
import { findEase } from "./ease-search.ts";
import { offerStretch, writeStretch } from "./fixes.ts";
import { textCures } from "./text-cures.ts";
import { solvedOf, type View } from "../view.ts";

/** What cures findings of one code in a document, proven as a whole. */
export interface FixAll {
  readonly edits: TextEdits;
  readonly cured: number;
  readonly of: number;
  /** Of the move, before and after [s]; absent for a document of another kind. */
  readonly durations?: readonly [number, number];
  /** Kinds of warnings that are new by it. */
  readonly warnings: readonly FindingCode[];
  /** The document with the edits. */
  readonly after: View;
}

/** Rounds of edits that findings bring: what the first ones mend may show others. */
const MOST_BATCHES = 40;
/** Findings that are cured one by one at most: each takes a search and an analysis. */
const MOST_SINGLE = 24;

/** Findings of a code that a document has and does not allow. */
export const countOf = (analysis: Analysis, code: FindingCode): number => ownFindings(analysis, code).length;

const ownFindings = (analysis: Analysis, code: FindingCode): readonly PlacedFinding[] =>
  findingsOf(analysis).filter(
    (one) => one.code === code && one.allowed === undefined && one.place.file === analysis.file,
  );

/**
 * Cures what can be cured of a code: first by all the edits that the findings bring, as far as they do not touch each other, then
 * one finding after another, each in the text that the ones before left. `undefined` where none is cured.
 */
export function* fixAll(view: View, code: FindingCode): Task<FixAll | undefined> {
  const memo = createMemo();
  const steps: TextEdits[] = [];
  let now = view;
  const tries = (edits: TextEdits): Task<View | undefined> => accepted(now, code, edits, view.analysis, memo);
  for (let round = 0; round < MOST_BATCHES; round++) {
    const batch = untouched(
      ownFindings(now.analysis, code).flatMap((finding) => textCures(now, finding)[0]?.edits ?? []),
    );
    const next = batch.length > 0 ? yield* tries(batch) : undefined;
    if (!next) break;
    steps.push(batch);
    now = next;
  }
  const failed = new Set<string>();
  for (let single = 0; single < MOST_SINGLE; single++) {
    const finding = ownFindings(now.analysis, code).find((one) => !failed.has(nameOf(one)));
    if (!finding) break;
    const before = steps.length;
    for (const find of WAYS) {
      const edits = yield* find(now, finding);
      const next = edits && (yield* tries(edits));
      if (!edits || !next) continue;
      steps.push(edits);
      now = next;
      break;
    }
    if (steps.length === before) failed.add(nameOf(finding));
  }
  const [of, left] = [countOf(view.analysis, code), countOf(now.analysis, code)];
  if (steps.length === 0 || of <= left) return undefined;
  const [was, is] = [view.analysis.trajectory?.duration, now.analysis.trajectory?.duration];
  return {
    edits: composedEdits(view.text.length, steps),
    cured: of - left,
    of,
    ...(was === undefined || is === undefined ? {} : { durations: [was, is] as const }),
    warnings: moreOf("warning", view.analysis, now.analysis),
    after: now,
  };
}

/** Ways to cure one finding, from what keeps the picture on. */
const WAYS: readonly ((view: View, finding: PlacedFinding) => Task<TextEdits | undefined>)[] = [
  function* (view, finding) {
    const [first] = textCures(view, finding);
    yield;
    return first?.edits;
  },
  function* (view, finding) {
    const offer = yield* offerStretch(view, finding);
    return offer && (yield* writeStretch(view, finding, offer.stretch));
  },
  function* (view, finding) {
    return (yield* findEase(view, finding))?.edits;
  },
  function* (view, finding) {
    return (yield* findClearings(view, finding))[0]?.edits;
  },
];

const nameOf = ({ code, axis, key, pass, message }: PlacedFinding): string =>
  JSON.stringify([code, axis, key, pass, message]);

/** Edits that touch none before them. */
function untouched(edits: TextEdits): TextEdits {
  const sorted = [...edits].sort(({ span: one }, { span: other }) => one.start - other.start || one.end - other.end);
  let end = -1;
  return sorted.filter(({ span }) => {
    const isApart = end < span.start;
    if (isApart) end = span.end;
    return isApart;
  });
}

/** The document after edits, where they leave fewer findings of the code and bring no error that the first text did not have. */
function* accepted(
  view: View,
  code: FindingCode,
  edits: TextEdits,
  first: Analysis,
  memo: AnalysisMemo,
): Task<View | undefined> {
  const text = applyEdits(view.text, edits);
  const sources = sourcesWith(view, text);
  const analysis = yield* analyse(view.file, sources, memo);
  const [left, was] = [countOf(analysis, code), countOf(view.analysis, code)];
  // Of each line one fault of syntax is told: the next one takes the place of one that is mended.
  const isBetter = code === "syntax" ? left <= was : left < was;
  // What is mended lets more be read, and then more of the motion is found: that is news, and no fault of the edit.
  const errors = moreOf("error", first, analysis).filter((one) => IS_OF_TEXT.has(one) || !IS_OF_TEXT.has(code));
  if (!isBetter || errors.length > 0) return undefined;
  return { ...view, text, tree: view.parse(text), analysis, solved: solvedOf(analysis), sources };
}

const IS_OF_TEXT: ReadonlySet<FindingCode> = new Set<FindingCode>(DOCUMENT_CODES);

/** `Cure 3 of 4 \`axis-speed\` findings in this document: the move's 6 s become 7.2 s`. */
export function fixAllTitle(code: FindingCode, { cured, of, durations, warnings }: FixAll): string {
  const share = cured === of ? `all ${of}` : `${cured} of ${of}`;
  const [was, is] = (durations ?? []).map((time) => formatQuantity(time, "time"));
  const longer = was === is ? "" : `: the move's ${was} become ${is}`;
  const news = warnings.length === 0 ? "" : ` (with a new ${warnings.join(", ")})`;
  return `Cure ${share} \`${code}\` findings in this document${longer}${news}`;
}
