import { changedRange } from "../../core/base/changed-range.ts";
import { editText } from "../fuzz/edits.ts";
import type { Random } from "../fuzz/random.ts";
import type { Change } from "./robust-server.ts";

/** Pieces beside those of the fuzz tests: what merges, pastes and other keyboards leave behind. */
const PIECES = [
  "<<<<<<< mine\nrate: 24\n=======\nrate: 25\n>>>>>>> theirs\n",
  "\ud83e\uded6",
  "\ud83e",
  "\uded6",
  "e\u0301",
  "\u2028",
  "\u00a0",
  "\t\t",
  "\r\r\n",
  "&a [*a]",
  "{{{{",
  "]]]]",
  "\u0000",
  "  - at: 2 s\r\n    axes: { slide: 0.1 }\r\n",
  "    hold: 1 s\n",
  "    aim: none\n",
  "speed: 50 %\n",
];

const VALUES = ["0", "-1", "0.05", "1e-300", "1e300", "7 deg", "3 kg", "12 f", "00:00:02:00", "5 %", "[1, 2]", "", "~"];

/**
 * What one edit changes, small or large: something typed or cut as the fuzz tests do, a field given another value, keys moved
 * or taken elsewhere, line ends changed, or several places at once. Maybe nothing.
 */
export function randomChanges(text: string, random: Random): readonly Change[] {
  const kind = random.below(20);
  if (kind < 9) return backTo(text, editText(text, random));
  const at = random.below(text.length + 1);
  switch (kind) {
    case 9:
    case 10:
    case 11:
      return [addressable(text, { from: at, to: at, piece: random.pick(PIECES) })];
    case 12:
    case 13:
    case 14:
      return changedValue(text, random);
    case 15:
      return movedKey(text, random);
    case 16:
      return backTo(text, random.below(2) === 0 ? text.replaceAll(/\r?\n/g, "\r\n") : text.replaceAll("\r\n", "\n"));
    case 17: {
      // Two places, one after the other, as with two cursors.
      const first = backTo(text, editText(text, random));
      const now = applied(text, first);
      return [...first, ...backTo(now, editText(now, random))];
    }
    case 18:
      return [addressable(text, { from: at, to: Math.min(text.length, at + random.below(400)), piece: "" })];
    default:
      return typed(text, at, random);
  }
}

/** The text after changes, each of which is of the text that those before it left. */
export function applied(text: string, changes: readonly Change[]): string {
  return changes.reduce((now, { from, to, piece }) => now.slice(0, from) + piece + now.slice(to), text);
}

/** The one change that makes a text another; none where both are the same. */
export function backTo(text: string, next: string): readonly Change[] {
  if (text === next) return [];
  const { start, olderEnd, newerEnd } = changedRange(text, next);
  return [addressable(text, { from: start, to: olderEnd, piece: next.slice(start, newerEnd) })];
}

/** The same change with ends that an editor can name: between CR and LF there is no place. */
function addressable(text: string, { from, to, piece }: Change): Change {
  const isInside = (at: number): boolean => text[at - 1] === "\r" && text[at] === "\n";
  const before = isInside(from) ? 1 : 0;
  const after = isInside(to) ? 1 : 0;
  return {
    from: from - before,
    to: to + after,
    piece: `${before ? "\r" : ""}${piece}${after ? "\n" : ""}`,
  };
}

/** A few characters of a word, each a change of its own that comes in one message. */
function typed(text: string, at: number, random: Random): readonly Change[] {
  const word = random.pick(["focus: lid", "  - at", "note: 🫖", "iris: 4\n"]);
  const start = addressable(text, { from: at, to: at, piece: "" });
  const whole = start.from === start.to ? [] : [start];
  const from = start.from === start.to ? at : start.from + start.piece.length;
  return [...whole, ...[...word].reduce<Change[]>((done, piece) => [...done, typedAfter(done, from, piece)], [])];
}

function typedAfter(done: readonly Change[], from: number, piece: string): Change {
  const at = done.length === 0 ? from : done[done.length - 1].from + done[done.length - 1].piece.length;
  return { from: at, to: at, piece };
}

function changedValue(text: string, random: Random): readonly Change[] {
  const fields = [...text.matchAll(/: *([^\s,{}[\]#][^\n\r,{}[\]#]*)/g)];
  if (fields.length === 0) return [];
  const field = random.pick(fields);
  const from = field.index + field[0].length - field[1].length;
  return [{ from, to: from + field[1].length, piece: random.pick(VALUES) }];
}

/** A list item with all its lines goes before another one, or is doubled there. */
function movedKey(text: string, random: Random): readonly Change[] {
  const starts = [...text.matchAll(/^ *- /gm)].map(({ index }) => index);
  if (starts.length < 2) return [];
  const which = random.below(starts.length);
  const from = starts[which];
  const to = starts[which + 1] ?? text.length;
  const item = text.slice(from, to);
  const goal = random.pick(starts);
  const put: Change = { from: goal, to: goal, piece: item };
  if (random.below(2) === 0) return [put];
  const shift = goal <= from ? item.length : 0;
  return [put, { from: from + shift, to: to + shift, piece: "" }];
}
