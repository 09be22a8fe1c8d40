import { hasAlias } from "./shift-tree.ts";
import type { Comment, MapEntry, TreeNode, TreeProblem } from "./tree.ts";
import { firstOfEachLine, parseYaml, parseYamlPart } from "./yaml.ts";
import type { Units } from "./yaml-regions.ts";

/** What a region holds; offsets count from its beginning. */
export interface RegionTree {
  /** Of a list; empty for fields. */
  readonly items: readonly (TreeNode | undefined)[];
  /** Of a map; empty for a list. */
  readonly entries: readonly MapEntry[];
  readonly comments: readonly Comment[];
  readonly problems: readonly TreeProblem[];
}

/** The unit that is put behind a region. It is read as it stands only if the region ends all that it begins. */
const MARKS = { list: "- 0\n", map: "z: 0\n" } as const;

/**
 * Parses whole lines of a text on their own, at their column. `undefined` unless they are read for sure as they are in
 * the whole text: nothing in them ends the list or map around, reaches behind them, or stands for something elsewhere.
 */
export function parseRegion(region: string, units: Units, isLast: boolean): RegionTree | undefined {
  const { kind, column } = units;
  if (/\t|\r(?!\n)/.test(region) || !isEnclosed(region, units)) return undefined;
  const written = isLast ? region : `${region}${" ".repeat(column)}${MARKS[kind]}`;
  const tree = parseYamlPart(written, kind === "list" ? 1 : 0);
  const { root } = tree ?? {};
  if (!tree || root?.kind !== kind || root.flow || root.start !== column) return undefined;
  const kept = firstOfEachLine(tree.problems, written);
  if (kept.some(({ code, span }) => span.end > region.length || !(code === "syntax" || code === "duplicate-name"))) {
    return undefined;
  }
  const items = root.kind === "list" ? [...root.items] : [];
  const entries = root.kind === "map" ? [...root.entries] : [];
  if (!isLast && !isMark(root.kind === "list" ? items.pop() : entries.pop(), region.length + column)) return undefined;
  if (items.length + entries.length === 0) return undefined;
  if (items.some(hasAlias) || entries.some(({ value }) => hasAlias(value))) return undefined;
  return { items, entries, comments: tree.comments, problems: kept };
}

/** Comments and blank lines; `undefined` when there is anything else, or the last line does not end. */
export function parseComments(text: string): RegionTree | undefined {
  if (!/^(?: *(?:#[^\t\r\n]*)?\r?\n)*$/.test(text)) return undefined;
  return { items: [], entries: [], comments: parseYaml(text).comments, problems: [] };
}

/** Every line is further in than the units begin, or begins one. Comments may stand anywhere. */
function isEnclosed(region: string, { kind, column }: Units): boolean {
  const begins = kind === "list" ? /^-(?: |\r?$)/ : /^(?!---|\.\.\.|%|-)/;
  for (const line of region.split("\n")) {
    const indent = line.search(/[^ ]/);
    if (indent < 0 || line[indent] === "#" || line[indent] === "\r" || indent > column) continue;
    if (indent < column || !begins.test(line.slice(column))) return false;
  }
  return true;
}

function isMark(last: TreeNode | MapEntry | undefined, offset: number): boolean {
  if (!last) return false;
  if (!("kind" in last)) return last.name === "z" && last.start === offset;
  return last.kind === "scalar" && last.value === 0 && last.start === offset + MARKS.list.indexOf("0");
}
