import { parseTime } from "../../base/timecode.ts";
import { entryOf, valueOf, type MapNode } from "../../syntax/tree.ts";
import type { TextEdits } from "../apply-edits.ts";
import { exactTime } from "../times/exact-time.ts";
import { columnOf, fieldEdits, fieldText, lineEndOf, type Written } from "../field-edits.ts";
import { keyMap } from "../key-item.ts";
import { statedTimes } from "../times/restate-times.ts";
import type { MoveText } from "../times/time-edits.ts";
import { keyFieldsOf, type TimeField } from "../times/time-fields.ts";
import { timeStyle } from "../times/written-time.ts";

/** How long a move lasts in written time, its last hold included [s]; `undefined` where a time cannot be read. */
export function writtenLength(document: MoveText): number | undefined {
  const times = statedTimes(document, keyFieldsOf(document.tree));
  const last = times?.[times.length - 1];
  return times && last && last.at + last.hold - times[0].at;
}

/**
 * Times of the keys from the end on. Each place in the list keeps the field and the notation in which its time stands, so a
 * column of times looks as it did; the values are those of the key that comes there.
 */
export function reversedTimes(document: MoveText): TextEdits | { readonly refusal: string } {
  const { tree, move } = document;
  const fields = keyFieldsOf(tree);
  const times = statedTimes(document, fields);
  const length = writtenLength(document);
  if (!times || length === undefined || fields.length !== move.keys.length) {
    return { refusal: "the time of a key cannot be read" };
  }
  if (times[0].at !== 0) return { refusal: "the first key is not at the beginning of the move" };
  const edits: { span: { start: number; end: number }; text: string }[] = [];
  let left = 0;
  for (let place = 0; place < fields.length; place++) {
    const key = fields.length - 1 - place;
    const time = length - times[key].at - times[key].hold;
    const map = keyMap(document, key);
    const field = fields[place].at ?? fields[place].after ?? { node: undefined, style: timeStyle("0 s")! };
    const name = fields[place].after && !fields[place].at ? "after" : "at";
    const stated = name === "at" ? time : time - left;
    left = time + times[key].hold;
    if (!map) continue;
    const value = exactTime(Math.max(0, stated), field.style, move.rate, name === "at" ? move.startFrame : 0);
    edits.push(...timeEdits(document, map, name, quoted(document, field, value)));
  }
  return edits;
}

function quoted({ text, tree }: Written, { node }: Partial<TimeField>, value: string): string {
  if (node?.style !== "quoted" || tree.format === "json") return value;
  return text[node.start] + value + text[node.start];
}

/** Gives a key its time: in place of the one that it has, or in front of its other fields. */
function timeEdits(written: Written, map: MapNode, name: "at" | "after", value: string): TextEdits {
  const { text, tree } = written;
  const own = map.entries.find((entry) => entry.name === "at" || entry.name === "after");
  const field = fieldText(tree, name, value);
  if (own) {
    const { start, end } = own;
    return own.name === name && text.slice(own.value?.start, end) === value
      ? []
      : [{ span: { start, end }, text: field }];
  }
  const [first] = map.entries;
  if (!first) return fieldEdits(written, map, [{ kind: "set", name, value }]);
  const { start } = first;
  const gap = map.flow || tree.format === "json" ? ", " : lineEndOf(text) + " ".repeat(columnOf(text, start));
  return [{ span: { start, end: start }, text: field + gap }];
}

/** Times of the move's own tests, counted from the end; or why one cannot be. */
export function reversedExpectations(document: MoveText): TextEdits | { readonly refusal: string } {
  const { tree, move } = document;
  const length = writtenLength(document);
  const list = valueOf(entryOf(tree.root, "expect")?.value);
  if (list?.kind !== "list" || length === undefined) return [];
  const edits: { span: { start: number; end: number }; text: string }[] = [];
  for (const item of list.items) {
    const times = (["at", "from", "to"] as const).map((name) => ({ name, entry: entryOf(item, name) }));
    const stated = times.filter(({ entry }) => entry !== undefined);
    // Both ends change places, so each is written where the other stands.
    for (const { name, entry } of stated) {
      const value = valueOf(entry?.value);
      const scalar =
        value?.kind === "scalar" && typeof value.value !== "boolean" && value.value !== null ? value : undefined;
      const style = scalar && timeStyle(scalar.value);
      const parsed = scalar && parseTime(scalar.value as string | number, move.rate, move.startFrame);
      if (!entry || !scalar || !style || !parsed?.ok || item?.kind !== "map" || entry.value !== value) {
        return { refusal: "a time of `expect` cannot be read, or is repeated elsewhere" };
      }
      const time = exactTime(length - parsed.value, style, move.rate, move.startFrame);
      const written = quoted(document, { node: scalar, style }, time);
      const other = name === "at" ? "at" : name === "from" ? "to" : "from";
      const place = stated.find((one) => one.name === other)?.entry ?? entry;
      edits.push({ span: { start: place.start, end: place.end }, text: fieldText(tree, other, written) });
    }
  }
  return edits;
}
