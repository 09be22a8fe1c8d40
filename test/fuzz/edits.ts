import type { Random } from "./random.ts";

/** What hands put into texts, right or wrong. */
const PIECES = [
  " ",
  "  ",
  "\n",
  "\r\n",
  "\t",
  "\r",
  "a",
  "1",
  "-",
  ":",
  ": ",
  ",",
  "#",
  " # note",
  "# allow near-limit: meant\n",
  "  # between\n",
  "'",
  '"',
  "{",
  "}",
  "[",
  "]",
  "&x ",
  "*x",
  "*",
  "!t ",
  "|\n",
  ">-\n",
  "? ",
  "%",
  "---\n",
  "...\n",
  "<<<<<<< a\n",
  "=======\n",
  ">>>>>>> b\n",
  "é",
  "😀",
  "\ufeff",
  "  - at: 9 s\n",
  "  -\n",
  "- x\n",
  "    focus: lid\n",
  "    focus: lid\r\n",
  "    note: |\n      two\n\n      lines\n",
  "    note: 'one\n      two'\n",
  "    aim: { at: lid,\n      framing: [0.5,\n  0.5] }\n",
  "    at: 1 s\n",
  "title: x\n",
  "keys:\n",
  "passes:\n  - name: a\n",
  ' "note": "x",',
  ', { "at": "99 s" }',
  "// no\n",
  "nowhere",
  "-0.5",
  "12 kg",
];

/** A text after one edit: a piece typed, a stretch cut, a stretch copied elsewhere, lines moved or doubled, or a value changed. */
export function editText(text: string, random: Random): string {
  const at = random.below(text.length + 1);
  switch (random.below(9)) {
    case 0:
    case 1:
      return put(text, at, at, random.pick(PIECES));
    case 2:
      return put(text, at, at + 1 + random.below(3), "");
    case 3:
      return put(text, at, at + random.below(40), random.pick(PIECES));
    case 4: {
      const from = random.below(text.length);
      return put(text, at, at, text.slice(from, from + random.below(60)));
    }
    case 5: {
      const [from, to] = lines(text, random);
      return put(text, from, to, "");
    }
    case 6: {
      const [from, to] = lines(text, random);
      const line = text.lastIndexOf("\n", at) + 1;
      return put(text, line, line, text.slice(from, to));
    }
    case 7:
      return changedNumber(text, at, random);
    default: {
      const line = text.lastIndexOf("\n", at) + 1;
      return random.below(2) === 0
        ? put(text, line, line, random.pick([" ", "  ", "\n"]))
        : put(text, line, line + 1, "");
    }
  }
}

function put(text: string, from: number, to: number, piece: string): string {
  return text.slice(0, from) + piece + text.slice(to);
}

/** A few whole lines. */
function lines(text: string, random: Random): [number, number] {
  const from = text.lastIndexOf("\n", random.below(text.length + 1)) + 1;
  let to = from;
  for (let count = 1 + random.below(6); count > 0 && to < text.length; count--) {
    const end = text.indexOf("\n", to);
    to = end < 0 ? text.length : end + 1;
  }
  return [from, to];
}

function changedNumber(text: string, at: number, random: Random): string {
  const match = /\d+(?:\.\d+)?/.exec(text.slice(at));
  if (!match) return text;
  const from = at + match.index;
  return put(text, from, from + match[0].length, random.pick(["0", "7", "0.25", "1e3", "12.", "-3"]));
}
