import { entryOf, valueOf, type TreeNode } from "../syntax/tree.ts";
import { isClean } from "./bits.ts";
import type { Element } from "./element.ts";
import { nameOf, type Row } from "./match-rows.ts";
import type { Part } from "./part.ts";
import type { Rows } from "./run.ts";
import { writtenTime } from "./same-value.ts";
import type { Merging } from "./merging.ts";
import type { Timing } from "./sides.ts";

/** Items whose times are nearer than this are at one time [s]. */
const SAME_TIME = 1e-9;

/** What an item says of its time, written time [s]; `end` is that of its hold. */
interface Moment {
  readonly at?: number;
  readonly after?: number;
  readonly hold: number;
}

/**
 * The first and the last of elements that cannot stand together though each side's own items can: two of one name, or two
 * in order of time of which a merged time comes before the end of the one above. `undefined` where there are none.
 */
export function crossings(
  { timing }: Merging,
  all: Rows,
  elements: readonly Element[],
  isTimed: boolean,
): readonly [number, number] | undefined {
  const sides = [all.ours.parts, all.theirs.parts].map((parts) => parts.map(({ node }) => node));
  const settled = elements.map((element): Row | undefined =>
    element.rows.length === 1 && isClean(element.body) ? all.rows[element.rows[0]] : undefined,
  );
  const names = settled.map((row) => row && merged(row, (node) => nameOf(node)?.toString()));
  if (sides.every((nodes) => firstDouble(nodes.map((node) => nameOf(node)?.toString())) === undefined)) {
    const double = firstDouble(names);
    if (double) return double;
  }
  if (!isTimed) return undefined;
  const own = sides.map((nodes) => nodes.map((node) => momentOf(node, timing)));
  if (own.some((moments) => firstTurn(moments) !== undefined)) return undefined;
  return firstTurn(settled.map((row) => row && mergedMoment(row, timing)));
}

function firstDouble(names: readonly (string | undefined)[]): readonly [number, number] | undefined {
  const seen = new Map<string, number>();
  for (const [i, name] of names.entries()) {
    if (name === undefined) continue;
    const before = seen.get(name);
    if (before !== undefined) return [before, i];
    seen.set(name, i);
  }
  return undefined;
}

/** Where time does not go on. What has no known time, or follows such, is passed over. */
function firstTurn(moments: readonly (Moment | undefined)[]): readonly [number, number] | undefined {
  let end: number | undefined;
  for (const [i, moment] of moments.entries()) {
    const time = moment && timeOf(moment, i === 0 ? 0 : end);
    if (i > 0 && time !== undefined && end !== undefined && time <= end + SAME_TIME) return [i - 1, i];
    end = moment && time !== undefined ? time + moment.hold : undefined;
  }
  return undefined;
}

function timeOf({ at, after }: Moment, end: number | undefined): number | undefined {
  if (at !== undefined) return at;
  return after === undefined || end === undefined ? undefined : end + after;
}

function momentOf(node: TreeNode | undefined, timing: Timing | undefined): Moment {
  const [at, after] = [secondsOf(node, "at", timing), secondsOf(node, "after", timing)];
  return {
    ...(at !== undefined && { at }),
    ...(after !== undefined && { after }),
    hold: secondsOf(node, "hold", timing) ?? 0,
  };
}

function secondsOf(node: TreeNode | undefined, field: string, timing: Timing | undefined): number | undefined {
  const value = valueOf(entryOf(node, field)?.value);
  if (value?.kind !== "scalar" || value.value === null || typeof value.value === "boolean") return undefined;
  // A label counts from the first frame, a stretch of time from nothing.
  return writtenTime(value.value, timing && field !== "at" ? { ...timing, startFrame: 0 } : timing);
}

function mergedMoment(row: Row, timing: Timing | undefined): Moment {
  const of = (field: string): number | undefined => merged(row, (node) => secondsOf(node, field, timing));
  const [at, after] = [of("at"), of("after")];
  return { ...(at !== undefined && { at }), ...(after !== undefined && { after }), hold: of("hold") ?? 0 };
}

/** What a row says once it is merged, where it is no clash. */
function merged<T>({ base, ours, theirs }: Row, of: (node: TreeNode | undefined) => T): T {
  const said = (part: Part | undefined): T => of(part?.node);
  if (!ours || !theirs) return said(ours ?? theirs);
  return base && said(base) === said(ours) ? said(theirs) : said(ours);
}
