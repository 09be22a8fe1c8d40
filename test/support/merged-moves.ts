import { seededRandom } from "../../core/base/random.ts";

/** A move as data, from which its text is written in one of several layouts; every key and every comment has a word of its own. */
export interface ModelKey {
  readonly id: string;
  readonly fields: Readonly<Record<string, string>>;
  readonly axes: Readonly<Record<string, string>>;
  readonly above: readonly string[];
  readonly beside: string | undefined;
}
export type Model = readonly ModelKey[];

export interface Layout {
  readonly format: "yaml" | "json";
  readonly flow: boolean;
  readonly step: number;
  readonly lineEnd: "\n" | "\r\n";
  readonly lastEnds: boolean;
}

/** One change of a side, and the cells of the base that it is about: two sides that touch none in common do not conflict. */
export interface Change {
  readonly cells: readonly string[];
  readonly make: (model: Model) => Model;
}

export function randomLayout(random: () => number): Layout {
  const format = random() < 0.3 ? "json" : "yaml";
  return {
    format,
    flow: random() < 0.4,
    step: random() < 0.5 ? 2 : 4,
    lineEnd: random() < 0.2 ? "\r\n" : "\n",
    lastEnds: random() < 0.8,
  };
}

export function randomModel(random: () => number, count: number): Model {
  return Array.from({ length: count }, (_, i): ModelKey => ({
    id: `key${i}`,
    fields: {
      at: `${10 * i} s`,
      ...(random() < 0.6 && { name: `n${i}` }),
      ...(random() < 0.4 && { focus: `${1 + i} m` }),
      note: `key${i}`,
    },
    axes: { lift: `${i} m`, pan: `${i * 3} deg`, ...(random() < 0.5 && { tilt: `${i} deg` }) },
    above: random() < 0.4 ? [`above${i}`] : [],
    beside: random() < 0.4 ? `beside${i}` : undefined,
  }));
}

/** A random change of one side; `side` makes its new words its own. */
export function randomChange(random: () => number, model: Model, side: string, turn: number): Change {
  const i = Math.floor(random() * model.length);
  const { id, fields } = model[i];
  const word = `${side}${turn}`;
  const on = (cell: string, edit: (key: ModelKey) => ModelKey): Change => ({
    cells: [`${id}.${cell}`],
    make: (now) => now.map((key) => (key.id === id ? edit(key) : key)),
  });
  const moved = `${10 * i + (i === 0 ? 0 : (side === "o" ? 1 : 2) + turn / 8)} s`;
  const kinds: (() => Change)[] = [
    () => on("lift", (key) => ({ ...key, axes: { ...key.axes, lift: `${100 + turn}.5 m` } })),
    () => on("pan", (key) => ({ ...key, axes: { ...key.axes, pan: `${side === "o" ? 200 : 300 + turn} deg` } })),
    () => on("at", (key) => ({ ...key, fields: { ...key.fields, at: moved } })),
    () => on("iris", (key) => ({ ...key, fields: { ...key.fields, iris: side === "o" ? "5.6" : "8" } })),
    () => on("name", (key) => ({ ...key, fields: { ...key.fields, name: `named-${word}` } })),
    () => on("above", (key) => ({ ...key, above: [...key.above, `above-${word}`] })),
    () => on("beside", (key) => ({ ...key, beside: `beside-${word}` })),
    () => on("focus", (key) => ({ ...key, fields: without(key.fields, "focus") })),
    () => ({ cells: [`${id}.*`], make: (now) => now.filter((key) => key.id !== id) }),
    () => ({
      cells: [],
      make: (now) => {
        const at = now.findIndex((key) => Number.parseFloat(key.fields.at) > 10 * i + 5);
        const added: ModelKey = {
          id: `new-${word}`,
          fields: { at: `${10 * i + 4 + (side === "o" ? 0 : 0.5) + turn / 8} s`, note: `new-${word}` },
          axes: { lift: `${turn} m` },
          above: random() < 0.5 ? [`above-new-${word}`] : [],
          beside: undefined,
        };
        return at < 0 ? [...now, added] : [...now.slice(0, at), added, ...now.slice(at)];
      },
    }),
  ];
  return kinds[fields.focus === undefined && random() < 0.5 ? 0 : Math.floor(random() * kinds.length)]();
}

const without = (fields: Readonly<Record<string, string>>, name: string): Record<string, string> =>
  Object.fromEntries(Object.entries(fields).filter(([other]) => other !== name));

/** True where two changes cannot both be made without somebody's word on it. */
export function isOpposed(one: Change, other: Change): boolean {
  return one.cells.some((cell) => other.cells.some((own) => cell === own || covers(cell, own) || covers(own, cell)));
}

const covers = (cell: string, other: string): boolean => cell.endsWith(".*") && other.startsWith(cell.slice(0, -1));

export function writeModel(model: Model, layout: Layout): string {
  const lines = layout.format === "json" ? jsonLines(model, layout) : yamlLines(model, layout);
  const text = lines.join(layout.lineEnd);
  return layout.lastEnds ? text + layout.lineEnd : text;
}

function yamlLines(model: Model, { flow, step }: Layout): string[] {
  const indent = " ".repeat(step);
  const keys = model.flatMap((key): string[] => {
    const above = key.above.map((word) => `${indent}# ${word}`);
    const beside = key.beside === undefined ? "" : ` # ${key.beside}`;
    const axes = `axes: { ${pairs(key.axes).join(", ")} }`;
    if (flow) return [...above, `${indent}- { ${[...pairs(key.fields), axes].join(", ")} }${beside}`];
    const [first, ...others] = pairs(key.fields);
    const inner = [...others, axes].map((line) => `${indent}  ${line}`);
    return [...above, `${indent}- ${first}${beside}`, ...inner];
  });
  return [
    "# the head",
    "move: 1",
    "title: Pots",
    "rate: 25",
    "keys:",
    ...keys,
    "# before the passes",
    "passes:",
    "  - { name: one }",
  ];
}

const pairs = (fields: Readonly<Record<string, string>>): string[] =>
  Object.entries(fields).map(([name, value]) => `${name}: ${value}`);

/** JSON has no comments: those of the model are left out. */
function jsonLines(model: Model, { flow, step }: Layout): string[] {
  const keys = model.map(({ fields, axes }) => ({ ...fields, axes }));
  const text = flow
    ? `{\n"move": 1,\n"title": "Pots", "keys": [\n${keys.map((key) => JSON.stringify(key)).join(",\n")}\n]\n}`
    : JSON.stringify({ move: 1, title: "Pots", rate: 25, keys }, undefined, step);
  return text.split("\n");
}

/** The words of keys and comments in a text. */
export function wordsIn(text: string): Set<string> {
  return new Set(
    text.match(/\b(?:key\d+|new-[a-z]\d+|above[\w-]*|beside[\w-]*|the head|before the passes)(?![\w-])/g) ?? [],
  );
}

export const randomOf = (seed: number): (() => number) => seededRandom(seed);
