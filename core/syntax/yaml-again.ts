import type { ChangedRange } from "../base/changed-range.ts";
import { lastIndexWhere } from "../base/last-index.ts";
import type { Again, ParsedText } from "./parse-again.ts";
import { hasAlias, shiftComment, shiftEntry, shiftNode, shiftProblem } from "./shift-tree.ts";
import type { ListNode, MapEntry, MapNode, Tree, TreeNode, TreeProblem } from "./tree.ts";
import { fieldsOf, itemsOf, regionAround, type Region, type Units } from "./yaml-regions.ts";
import { parseComments, parseRegion, type RegionTree } from "./yaml-region-tree.ts";

/** See `parseAgain`: the items of a block list in a field of the root, or else fields of the root. */
export function againInYaml(before: ParsedText, text: string, change: ChangedRange): Again | undefined {
  const { root } = before.tree;
  if (root?.kind !== "map" || root.flow || /^%/m.test(before.text.slice(0, root.start))) return undefined;
  const edit: Edit = { before, root, text, by: change.newerEnd - change.olderEnd };
  return againInList(edit, change) ?? againInRoot(edit, change);
}

interface Edit {
  readonly before: ParsedText;
  readonly root: MapNode;
  readonly text: string;
  /** How far the text behind the change has moved. */
  readonly by: number;
}

function againInList(edit: Edit, change: ChangedRange): Again | undefined {
  const { before, root, by } = edit;
  const fields = fieldsOf(before.text, root);
  const at = lastIndexWhere(root.entries, ({ start }) => start <= change.start);
  const list = root.entries[at]?.value;
  if (list?.kind !== "list" || list.flow) return undefined;
  const end = at + 1 < root.entries.length ? fields.begin(at + 1) : before.text.length;
  const units = end === undefined ? undefined : itemsOf(before.text, list, end);
  const again = units && parseUnits(edit, units, change);
  if (!again) return undefined;
  const { region, found } = again;
  const tail = list.items.slice(region.next);
  const after = root.entries.slice(at + 1);
  if (hasAliasBehind(edit, [...tail, ...after.map(({ value }) => value)])) return undefined;
  const items = [
    ...list.items.slice(0, region.first),
    ...found.items.map((item) => shiftNode(item, region.from)),
    ...tail.map((item) => shiftNode(item, by)),
  ];
  const value: ListNode = { ...list, items, end: furthest(items, list.start + 1) };
  const entry: MapEntry = { ...root.entries[at], value, end: value.end };
  const entries = [...root.entries.slice(0, at), entry, ...after.map((each) => shiftEntry(each, by))];
  const added = found.items.length;
  return {
    tree: treeWith(edit, entries, region, found),
    parsed: added,
    earlier(field, index) {
      if (root.entries.findIndex(({ name }) => name === field) !== at) return earlierOf(root, field, index);
      if (index < region.first) return index;
      return index < region.first + added ? undefined : index - added + (region.next - region.first);
    },
  };
}

function againInRoot(edit: Edit, change: ChangedRange): Again | undefined {
  const { before, root, by } = edit;
  const again = parseHead(edit, change) ?? parseUnits(edit, fieldsOf(before.text, root), change);
  if (!again) return undefined;
  const { region, found } = again;
  const tail = root.entries.slice(region.next);
  if (
    hasAliasBehind(
      edit,
      tail.map(({ value }) => value),
    )
  )
    return undefined;
  const fresh = found.entries.map((entry) => shiftEntry(entry, region.from));
  const entries = [...root.entries.slice(0, region.first), ...fresh, ...tail.map((entry) => shiftEntry(entry, by))];
  // A name that stands twice is told of the map as a whole.
  if (new Set(entries.map(({ name }) => name)).size < entries.length) return undefined;
  if (new Set(root.entries.map(({ name }) => name)).size < root.entries.length) return undefined;
  const names = new Set(fresh.map(({ name }) => name));
  return {
    tree: treeWith(edit, entries, region, found),
    parsed: fresh.length,
    earlier: (field, index) => (names.has(field) ? undefined : earlierOf(root, field, index)),
  };
}

interface Parsed {
  readonly region: Region;
  readonly found: RegionTree;
}

/** What stands before the first field: comments and blank lines, or it is not looked at alone. */
function parseHead({ before, root, text, by }: Edit, change: ChangedRange): Parsed | undefined {
  const to = root.start;
  if (change.olderEnd > to || change.newerEnd > to + by) return undefined;
  const found = parseComments(text.slice(0, to + by));
  if (!found || !parseComments(before.text.slice(0, to))) return undefined;
  return { region: { first: 0, next: 0, from: 0, to, isLast: false }, found };
}

function parseUnits({ before, text, by }: Edit, units: Units, change: ChangedRange): Parsed | undefined {
  const region = regionAround(units, before.text, text, change);
  // Where most of the text would be parsed, nothing is saved.
  if (!region || region.to + by - region.from > text.length / 2) return undefined;
  const lines = text.slice(region.from, region.to + by);
  const found = parseRegion(lines, units, region.isLast);
  // What a broken first field is taken for depends on the field before.
  const isHeadNew = change.start <= region.from + lines.indexOf("\n");
  const isBroken = found?.problems.some(({ code }) => code === "syntax");
  return units.kind === "map" && isHeadNew && isBroken ? undefined : found && { region, found };
}

/** An item of a field of the root that the edit left alone, as it was. */
function earlierOf(root: MapNode, field: string, index: number): number | undefined {
  return root.entries.some(({ name }) => name === field) ? index : undefined;
}

const furthest = (items: readonly (TreeNode | undefined)[], least: number): number =>
  items.reduce((end, item) => Math.max(end, item?.end ?? 0), least);

/** An alias behind the change may stand for a value in it or before it, which is another now. */
const hasAliasBehind = ({ before }: Edit, nodes: readonly (TreeNode | undefined)[]): boolean =>
  before.text.includes("*") && nodes.some(hasAlias);

function treeWith({ before, root, by }: Edit, entries: readonly MapEntry[], region: Region, found: RegionTree): Tree {
  const { tree } = before;
  const comments = [
    ...tree.comments.filter(({ start }) => start < region.from),
    ...found.comments.map((comment) => shiftComment(comment, region.from)),
    ...tree.comments.filter(({ start }) => start >= region.to).map((comment) => shiftComment(comment, by)),
  ];
  const problems: TreeProblem[] = [
    ...tree.problems.filter(({ span }) => span.start < region.from),
    ...found.problems.map((problem) => shiftProblem(problem, region.from)),
    ...tree.problems.filter(({ span }) => span.start >= region.to).map((problem) => shiftProblem(problem, by)),
  ];
  const start = root.start + (region.to === root.start ? by : 0);
  const { end } = entries[entries.length - 1];
  return { format: "yaml", root: { ...root, start, end, entries }, comments, problems };
}
