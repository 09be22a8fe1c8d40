import { displayWidth } from "./display-width.ts";
import { flowNodeAt, type FlowItem, type FlowNode } from "./flow-node.ts";
import type { LayoutToken } from "./layout-token.ts";

/** A cell wider than this is no measure for the others of its column, and is not filled up. */
const WIDEST_CELL = 80;

interface Row {
  readonly node: FlowNode;
  readonly comment: number | undefined;
}

interface Table {
  readonly text: string;
  readonly tokens: readonly LayoutToken[];
  /** Blanks before each token of a line. */
  readonly gaps: number[];
}

/**
 * Lines up key tables: items of a list, one below the other, that are each a map or list on one line. A column goes as far as
 * neighbours have the same fields before it, so that a row changes no more of the others than it has in common with them.
 *
 * @param gaps Blanks before each token; those of tables are made wider.
 */
export function alignTables(text: string, tokens: readonly LayoutToken[], gaps: number[]): void {
  const table: Table = { text, tokens, gaps };
  let rows: Row[] = [];
  let column = -1;
  let first = 0;
  while (first < tokens.length) {
    let end = first + 1;
    while (end < tokens.length && tokens[end].breaks === 0) end += 1;
    const row = rowAt(text, tokens, first, end);
    const goesOn = row && tokens[first].breaks === 1 && tokens[first].column === column;
    if (!goesOn) {
      alignRows(table, rows);
      rows = [];
    }
    if (row) rows.push(row);
    column = tokens[first].column;
    first = end;
  }
  alignRows(table, rows);
}

/** The line from token `first` up to `end` as a row; `undefined` when there is anything else in it. */
function rowAt(text: string, tokens: readonly LayoutToken[], first: number, end: number): Row | undefined {
  const open = tokens[first].kind === "dash" ? first + 1 : first;
  if (open >= end || tokens[open].kind !== "open") return undefined;
  const node = flowNodeAt(text, tokens, open);
  if (!node || node.close >= end) return undefined;
  const behind = tokens[node.close + 1]?.kind === "comma" ? node.close + 2 : node.close + 1;
  const comment = behind < end && tokens[behind].kind === "comment" ? behind : undefined;
  return behind === end || comment === end - 1 ? { node, comment } : undefined;
}

function alignRows(table: Table, rows: readonly Row[]): void {
  if (rows.length < 2) return;
  alignNodes(
    table,
    rows.map(({ node }) => node),
  );
  for (const run of runsOf(rows, ({ comment }) => (comment === undefined ? undefined : "comment"))) {
    const widths = run.map(({ node, comment }) => widthOf(table, node.open, (comment ?? 0) - 1));
    const widest = mostOf(widths);
    run.forEach(({ comment }, idx) => {
      if (comment !== undefined) table.gaps[comment] += widest - widths[idx];
    });
  }
}

function alignNodes(table: Table, nodes: readonly FlowNode[]): void {
  for (const run of runsOf(nodes, ({ kind }) => kind)) alignFrom(table, run, 0);
}

/** Lines up the cells number `index` and those after it, in rows whose cells before have the same names. */
function alignFrom(table: Table, rows: readonly FlowNode[], index: number): void {
  if (rows.length < 2) return;
  for (const run of runsOf(rows, ({ items }) => (index < items.length ? `${items[index].name ?? ""}:` : undefined))) {
    if (run.length < 2) continue;
    const cells = run.map(({ items }) => items[index]);
    const leads = alignValues(table, cells);
    const widths = cells.map(({ first, last, value }, idx) => {
      return widthOf(table, first, last) + (value === first ? leads[idx] : 0);
    });
    // The last cell of a row needs no filling up.
    const counts = run.map(({ items }, idx) => index + 1 < items.length && widths[idx] <= WIDEST_CELL);
    const widest = mostOf(widths.filter((_, idx) => counts[idx]));
    run.forEach(({ items }, idx) => {
      if (counts[idx]) table.gaps[items[index + 1].first] += widest - widths[idx];
    });
    alignFrom(table, run, index + 1);
  }
}

/** Lines up what the cells hold: maps and lists by their own columns, numbers by their points. Blanks put before each value. */
function alignValues(table: Table, cells: readonly FlowItem[]): readonly number[] {
  for (const run of runsOf(cells, ({ node }) => (node ? "node" : undefined))) {
    alignNodes(
      table,
      run.flatMap(({ node }) => node ?? []),
    );
  }
  const leads = cells.map(() => 0);
  const numbers = cells.map((cell, idx) => ({ idx, value: cell.value ?? -1, whole: wholeDigits(table, cell) }));
  for (const run of runsOf(numbers, ({ whole }) => (whole === undefined ? undefined : "number"))) {
    const most = mostOf(run.map(({ whole }) => whole ?? 0));
    for (const { idx, value, whole = 0 } of run) {
      leads[idx] = most - whole;
      table.gaps[value] += most - whole;
    }
  }
  return leads;
}

/** Columns up to the decimal point of a cell that is one number, with its sign and unit; `undefined` of any other. */
function wholeDigits({ text, tokens }: Table, { value, last }: FlowItem): number | undefined {
  if (value === undefined || value !== last) return undefined;
  const { start, end } = tokens[value];
  const number = /^["']?[-+]?(?:\d+(?=[.\D]|$)|(?=\.\d))(?!\d*:)/.exec(text.slice(start, end));
  return number?.[0].length;
}

/** The highest of numbers that are not negative. A table may have more rows than a call may have arguments. */
const mostOf = (numbers: readonly number[]): number => numbers.reduce((most, each) => Math.max(most, each), 0);

/** Neighbours of one name; what has none ends a run and is in no run. */
function runsOf<T>(items: readonly T[], nameOf: (item: T, idx: number) => string | undefined): T[][] {
  const runs: T[][] = [];
  let last: string | undefined;
  items.forEach((item, idx) => {
    const name = nameOf(item, idx);
    if (name !== undefined) {
      if (name === last) runs[runs.length - 1].push(item);
      else runs.push([item]);
    }
    last = name;
  });
  return runs;
}

/** Columns from the token `first` to `last`. */
function widthOf({ text, tokens, gaps }: Table, first: number, last: number): number {
  let width = 0;
  for (let idx = first; idx <= last; idx += 1) {
    width += displayWidth(text.slice(tokens[idx].start, tokens[idx].end)) + (idx > first ? gaps[idx] : 0);
  }
  return width;
}
