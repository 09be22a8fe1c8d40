import { parseTime } from "../../base/timecode.ts";
import { checked, fieldText, type Rewriting } from "../field-edits.ts";
import { keyList } from "../key-item.ts";
import { exactTime } from "./exact-time.ts";
import type { MoveText } from "./time-edits.ts";
import { isWithin, keyFieldsOf, sharedSpans, type KeyFields } from "./time-fields.ts";

/** What a key's time counts from: the beginning of the move, or the end of the key before. */
export type TimeField = "at" | "after";

/** When a key is and for how long it is held, in written time as the text counts it [s]. */
export interface StatedTime {
  readonly at: number;
  readonly hold: number;
}

/**
 * States the times of some keys by the other field: `at` becomes `after`, or back, each in the notation in which it stands
 * where that can say it, else in seconds. Nothing moves. `undefined` where no key of them has the other field.
 *
 * @param keys Positions of keys; the first key of a move, which begins it, is left as it is.
 */
export function restateTimes(document: MoveText, keys: readonly number[], field: TimeField): Rewriting | undefined {
  const { tree, move } = document;
  const fields = keyFieldsOf(tree);
  const times = statedTimes(document, fields);
  if (!times || fields.length !== move.keys.length) return undefined;
  const old = field === "at" ? "after" : "at";
  const chosen = keys.filter((key) => 0 < key && fields[key]?.[old] && !fields[key][field]);
  if (chosen.length === 0) return undefined;
  const shared = sharedSpans(tree);
  const items = keyList(document)?.items ?? [];
  const edits: { span: { start: number; end: number }; text: string }[] = [];
  for (const key of chosen) {
    const { node, style } = fields[key][old]!;
    const item = items[key];
    const entry = item?.kind === "map" ? item.entries.find(({ name }) => name === old) : undefined;
    const label = move.keys[key].label;
    // What carries an anchor, or is an alias, has more places than this one.
    if (!entry || entry.value !== node || isWithin(node, shared)) {
      return { refusal: `the time of ${label} is repeated elsewhere (\`&name\`, \`*name\`): write it out first` };
    }
    const before = times[key - 1];
    const time = field === "at" ? times[key].at : times[key].at - before.at - before.hold;
    const written = exactTime(time, style, move.rate, field === "at" ? move.startFrame : 0);
    const value =
      node.style === "quoted" && tree.format === "yaml" ? quoted(document.text[node.start], written) : written;
    edits.push({ span: { start: entry.start, end: entry.end }, text: fieldText(tree, field, value) });
  }
  return checked(document, edits);
}

const quoted = (mark: string, written: string): string => mark + written + mark;

/** Times as the text states them; `undefined` where one cannot be read. */
export function statedTimes({ move }: MoveText, fields: readonly KeyFields[]): readonly StatedTime[] | undefined {
  const times: StatedTime[] = [];
  const read = (field: KeyFields["at"], offset: number): number | undefined => {
    const value = field?.node.value;
    if (typeof value !== "string" && typeof value !== "number") return undefined;
    const parsed = parseTime(value, move.rate, offset);
    return parsed.ok ? parsed.value : undefined;
  };
  for (const [key, { at, after, hold }] of fields.entries()) {
    const before = times[key - 1];
    const way = read(after, 0);
    const stated = at ? read(at, move.startFrame) : before && way !== undefined ? before.at + before.hold + way : way;
    const time = stated ?? (key === 0 && !at && !after ? 0 : undefined);
    const rest = hold ? read(hold, 0) : 0;
    if (time === undefined || rest === undefined) return undefined;
    times.push({ at: time, hold: rest });
  }
  return times;
}
