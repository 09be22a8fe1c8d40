import type { ChangedRange } from "../base/changed-range.ts";
import { lastIndexWhere } from "../base/last-index.ts";
import { parseJsonItems } from "./json.ts";
import type { Again, ParsedText } from "./parse-again.ts";
import { shiftEntry, shiftNode, shiftProblem } from "./shift-tree.ts";
import type { ListNode, MapEntry, MapNode } from "./tree.ts";
import { firstOfEachLine } from "./yaml.ts";

/** The root's map, then the list. */
const DEPTH = 2;

/** See `parseAgain`: the items of a list in a field of the root. The reader's state between two items is its place alone. */
export function againInJson({ text: older, tree }: ParsedText, text: string, change: ChangedRange): Again | undefined {
  const { root } = tree;
  if (root?.kind !== "map" || older.length === 0) return undefined;
  const at = lastIndexWhere(root.entries, ({ start }) => start <= change.start);
  const list = root.entries[at]?.value;
  if (list?.kind !== "list") return undefined;
  const first = lastIndexWhere(list.items, (item) => item !== undefined && item.start <= change.start);
  const last = list.items.findIndex(
    (item, index) => index >= first && item !== undefined && change.olderEnd <= item.end,
  );
  const [from, to] = [list.items[first]?.start, list.items[last]?.end];
  if (from === undefined || to === undefined) return undefined;
  const by = change.newerEnd - change.olderEnd;
  const found = parseJsonItems(text, from, to + by, DEPTH);
  if (!found) return undefined;
  const items = [
    ...list.items.slice(0, first),
    ...found.items,
    ...list.items.slice(last + 1).map((item) => shiftNode(item, by)),
  ];
  const value: ListNode = { ...list, items, end: list.end + by };
  const entry: MapEntry = { ...root.entries[at], value, end: value.end };
  const after = root.entries.slice(at + 1).map((each) => shiftEntry(each, by));
  const entries = [...root.entries.slice(0, at), entry, ...after];
  const problems = [
    ...tree.problems.filter(({ span }) => span.start < from),
    ...firstOfEachLine(found.problems, text),
    ...tree.problems.filter(({ span }) => span.start >= to).map((problem) => shiftProblem(problem, by)),
  ];
  const whole: MapNode = { ...root, entries, end: root.end + by };
  const added = found.items.length;
  return {
    tree: { format: "json", root: whole, comments: [], problems },
    parsed: added,
    earlier(field, index) {
      const entryAt = root.entries.findIndex(({ name }) => name === field);
      if (entryAt !== at) return entryAt < 0 ? undefined : index;
      if (index < first) return index;
      return index < first + added ? undefined : index - added + (last + 1 - first);
    },
  };
}
