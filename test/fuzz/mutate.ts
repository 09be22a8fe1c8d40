import type { Random } from "./random.ts";

type Value = unknown;
type Holder = { readonly parent: Record<string, Value> | Value[]; readonly key: string | number };

/** Values that stand where others should: other types, other units, numbers that are none. */
const STRANGERS: readonly Value[] = [
  null,
  true,
  0,
  -1,
  Infinity,
  -Infinity,
  Number.NaN,
  1e-300,
  2 ** 53 + 2,
  "",
  " ",
  "none",
  "level",
  "lid",
  "3 s",
  "3 kg",
  "3 deg",
  "-3 mm",
  "3 furlongs",
  "1,5 mm",
  "60 f",
  "00:00:01:00",
  "00:01:00;00",
  "99:99:99:99",
  "m.move.yaml",
  "../../../x.rig.yaml",
  "__proto__",
  "constructor",
  "a.b=c,d",
  "\u0000",
  "😀".repeat(20),
  [],
  {},
  [[[[[]]]]],
  [0, 0, 0],
  [1, 2],
  [1, 2, 3, 4],
  { at: [1, 2, 3] },
  { __proto__: null, toString: 1 },
];

/** One change of structure: a field gone, swapped, doubled, renamed, nested, replaced. The value itself is changed. */
export function mutateValue(root: Value, random: Random): void {
  const places = placesOf(root);
  if (places.length === 0) return;
  const place = random.pick(places);
  const other = random.pick(places);
  const value = get(place);
  switch (random.below(9)) {
    case 0:
      remove(place);
      break;
    case 1:
      set(place, copy(get(other)));
      set(other, value === get(other) ? value : copy(value));
      break;
    case 2:
      set(place, random.pick(STRANGERS));
      break;
    case 3:
      set(place, [copy(value), copy(value)]);
      break;
    case 4:
      set(place, { [String(other.key)]: copy(value) });
      break;
    case 5:
      rename(place, random);
      break;
    case 6:
      if (Array.isArray(place.parent)) place.parent.splice(Number(place.key), 0, copy(value));
      else place.parent[`${place.key}-2`] = copy(value);
      break;
    case 7:
      set(place, typeof value === "number" ? value * random.pick([-1, 0, 1e9, 1e-9, 1e200]) : String(value));
      break;
    default:
      set(place, deepen(copy(value), random.below(90)));
  }
}

const copy = (value: Value): Value => (value === undefined ? null : structuredClone(value));
const get = ({ parent, key }: Holder): Value => (parent as Record<string | number, Value>)[key];

function set({ parent, key }: Holder, value: Value): void {
  (parent as Record<string | number, Value>)[key] = value;
}

function remove({ parent, key }: Holder): void {
  if (Array.isArray(parent)) parent.splice(Number(key), 1);
  else delete parent[key];
}

function rename(place: Holder, random: Random): void {
  const value = get(place);
  if (Array.isArray(place.parent)) return;
  remove(place);
  const name = String(place.key);
  const at = random.below(name.length + 1);
  const names = [`${name.slice(0, at)}${name.slice(at + 1)}`, `${name}x`, name.toUpperCase(), "", "__proto__", "at"];
  Object.defineProperty(place.parent, random.pick(names), {
    value,
    enumerable: true,
    configurable: true,
    writable: true,
  });
}

function deepen(value: Value, levels: number): Value {
  let out = value;
  for (let i = 0; i < levels; i++) out = i % 2 === 0 ? [out] : { a: out };
  return out;
}

function placesOf(value: Value, out: Holder[] = [], depth = 0): Holder[] {
  if (typeof value !== "object" || value === null || depth > 40) return out;
  const parent = value as Record<string, Value> | Value[];
  for (const key of Array.isArray(parent) ? parent.keys() : Object.keys(parent)) {
    out.push({ parent, key });
    placesOf((parent as Record<string | number, Value>)[key], out, depth + 1);
  }
  return out;
}

const MARKS = [
  "[",
  "]",
  "{",
  "}",
  ":",
  ",",
  "- ",
  "#",
  "\n",
  "\t",
  '"',
  "'",
  "&a ",
  "*a",
  "|\n",
  "? ",
  "!x ",
  "\u0000",
  "é",
  "\ufeff",
];
const BLOCKS = [
  "<<<<<<< a\n",
  "=======\n",
  ">>>>>>> b\n",
  "---\n",
  "...\n",
  "%YAML 1.1\n",
  "\r\n",
  "1e999",
  "[".repeat(80),
];

/** One change of the text: characters gone, doubled, changed, put in, a part cut out, repeated or moved, the end cut off. */
export function mutateText(text: string, random: Random): string {
  const at = random.below(text.length + 1);
  const end = Math.min(text.length, at + 1 + random.below(30));
  const part = text.slice(at, end);
  switch (random.below(9)) {
    case 0:
      return text.slice(0, at) + text.slice(end);
    case 1:
      return text.slice(0, at) + random.pick(MARKS) + text.slice(at);
    case 2:
      return text.slice(0, at) + random.pick(BLOCKS) + text.slice(at);
    case 3:
      return text.slice(0, at);
    case 4:
      return text.slice(0, end) + part + text.slice(end);
    case 5:
      return text.slice(0, at) + String.fromCharCode(random.below(0x3000)) + text.slice(at + 1);
    case 6: {
      const to = random.below(text.length + 1);
      return text.slice(0, to) + part + text.slice(to);
    }
    case 7: {
      const lines = text.split("\n");
      const line = random.below(lines.length);
      lines[line] = random.below(2) === 0 ? `  ${lines[line]}` : lines[line].replace(/^ {1,2}/, "");
      return lines.join("\n");
    }
    default:
      return text.slice(0, at) + part.repeat(1 + random.below(40)) + text.slice(at);
  }
}
