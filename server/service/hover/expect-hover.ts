import type { Task } from "../../../core/base/task.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import { checkContext } from "../../../core/checks/check-context.ts";
import { MEASURED } from "../../../core/checks/expect/measured-quantities.ts";
import { createSeen } from "../../../core/checks/seen.ts";
import type { ResolvedExpectation } from "../../../core/motion/resolved-move.ts";
import { labelText } from "../key-table.ts";
import { placeOf } from "../key-place.ts";
import { code, paragraphs } from "../markdown.ts";
import type { Solved, View } from "../view.ts";
import { STALE } from "./around.ts";

/** The expectation whose text holds `offset`. */
export function expectationAt({ file }: View, solved: Solved, offset: number): ResolvedExpectation | undefined {
  return solved.move.expectations?.find(({ origin }) => {
    const span = placeOf(solved, file, origin);
    return span && span.start <= offset && offset <= span.end;
  });
}

/** What an expectation measures now, and how far that is from what it allows. */
export function* expectHover(solved: Solved, expectation: ResolvedExpectation): Task<string> {
  const { trajectory, stale, move } = solved;
  const { of, measure, dimension, low, high, from, to } = expectation;
  const { extremes, timeless, without: why } = MEASURED[measure.quantity];
  const context = checkContext(trajectory, createSeen());
  const found = yield* extremes(context, { subject: measure.subject, from, to });
  const shown = (value: number): string => formatQuantity(value, dimension);
  const at = (t: number): string => (timeless ? "" : ` at ${labelText(move, t)}`);
  if (found.without !== undefined) {
    return paragraphs([
      `${code(of)} has no value${at(found.without)}${why === undefined ? "" : `: ${why}`}.`,
      stale ? STALE : undefined,
    ]);
  }
  const { low: least, high: most } = found;
  const isOne = least.value === most.value;
  const measured = isOne
    ? `${shown(most.value)}${at(most.t)}`
    : `${shown(least.value)}${at(least.t)} to ${shown(most.value)}${at(most.t)}`;
  return paragraphs([
    `${code(of)} is ${measured}.`,
    stale ? STALE : undefined,
    ...(low === undefined ? [] : [boundWords("least", least.value - low, shown(low), shown)]),
    ...(high === undefined ? [] : [boundWords("most", high - most.value, shown(high), shown)]),
  ]);
}

function boundWords(which: "least" | "most", room: number, bound: string, shown: (value: number) => string): string {
  const state = room >= 0 ? `kept, with ${shown(room)} to spare` : `broken by ${shown(-room)}`;
  return `At ${which} ${bound} is expected: ${state}.`;
}
