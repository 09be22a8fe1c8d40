import { lastIndexWhere } from "../base/last-index.ts";
import { clash, type Bit } from "./bits.ts";
import type { Element, Place } from "./element.ts";
import type { Row } from "./match-rows.ts";
import { bodyOf, type Cut, type Part } from "./part.ts";
import { saidEntry, saidOf, type Said } from "./said.ts";

/** The rows of a merged list or map, and what the sides have of them. */
export interface Rows {
  readonly rows: readonly Row[];
  readonly ours: Cut;
  readonly theirs: Cut;
  readonly place: Place;
}

type Side = "ours" | "theirs";

/**
 * Makes one clash of the elements from `first` to `last`: each side's own text there. It grows until it holds what each
 * side has as one stretch of its text.
 *
 * @param isWhole Whether all of it is shown, and not only the lines that differ.
 */
export function clashRun(
  all: Rows,
  elements: readonly Element[],
  first: number,
  last: number,
  isWhole = false,
): Element[] {
  const stretches = {
    ours: stretchOf(all, elements, first, last, "ours"),
    theirs: stretchOf(all, elements, first, last, "theirs"),
  };
  const held = new Set([...stretches.ours, ...stretches.theirs].map((part) => rowOf(all, part)));
  const isHeld = (element: Element): boolean => element.rows.some((row) => held.has(row));
  const [from, to] = [elements.findIndex(isHeld), lastIndexWhere(elements, isHeld)];
  if (0 <= from && (from < first || last < to)) {
    return clashRun(all, elements, Math.min(first, from), Math.max(last, to), isWhole);
  }
  const column = all.ours.flow ? undefined : all.ours.column;
  const texts = { ours: textOf(stretches.ours, column), theirs: textOf(stretches.theirs, column) };
  const run: Element = {
    rows: elements.slice(first, last + 1).flatMap(({ rows }) => rows),
    lead: leadOf(stretches, column),
    body: [clash(texts.ours, texts.theirs)],
    ours: stretches.ours.map((part) => said(part, all.place)),
    theirs: stretches.theirs.map((part) => said(part, all.place)),
    isWhole,
  };
  return [...elements.slice(0, first), run, ...elements.slice(last + 1)];
}

const said = (part: Part, { isMap }: Place): Said =>
  isMap ? saidEntry(part.name, saidOf(part.node)) : saidOf(part.node);

const rowOf = ({ rows }: Rows, part: Part): number =>
  rows.findIndex(({ ours, theirs }) => ours === part || theirs === part);

/** What a side has from its first to its last part of some elements. */
function stretchOf(all: Rows, elements: readonly Element[], first: number, last: number, side: Side): readonly Part[] {
  const { parts } = all[side];
  const own = elements.slice(first, last + 1).flatMap(({ rows }) =>
    rows.flatMap((row) => {
      const part = all.rows[row][side];
      return part ? [parts.indexOf(part)] : [];
    }),
  );
  return own.length === 0 ? [] : parts.slice(Math.min(...own), Math.max(...own) + 1);
}

/** Parts with what is between them; in a block the lead of the first and its blanks come before it. */
function textOf(parts: readonly Part[], column: number | undefined): string {
  return parts
    .map((part, i) => {
      const between = column === undefined ? `,${part.lead ?? " "}` : (part.lead ?? "") + " ".repeat(column);
      return (i === 0 ? "" : between) + bodyOf(part);
    })
    .join("");
}

/** In brackets what follows the comma; in a block the lines above, in which the sides may differ. */
function leadOf(
  { ours, theirs }: { readonly ours: readonly Part[]; readonly theirs: readonly Part[] },
  column: number | undefined,
): readonly Bit[] | undefined {
  const leads = [ours[0]?.lead, theirs[0]?.lead];
  if (column !== undefined) return [clash(leads[0] ?? "", leads[1] ?? "")];
  const lead = leads[0] ?? leads[1];
  return lead === undefined ? undefined : [lead];
}
