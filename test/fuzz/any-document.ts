// Documents made from the schema tables: a sound one in which fields are left out, added, or given values at the edge of
// sense.
import { SHAPES, type SchemaKind } from "../../core/schema/documents.ts";
import type { NameKind, ScalarFacts } from "../../core/schema/facts.ts";
import type { Shape } from "../../core/schema/shape.ts";
import type { Random } from "./random.ts";

type Value = unknown;
type Fields = Record<string, Value>;

/** Names that the sound documents define, and one that none does. */
const NAMES: Readonly<Record<NameKind, readonly string[]>> = {
  axis: ["slide", "lift", "pan", "tilt", "roll", "plate", "none"],
  target: ["lid", "spout", "stream", "none"],
  lens: ["wide", "zoom", "none"],
  turntable: ["plate", "none"],
  mark: ["a", "none"],
  key: ["first", "last", "none"],
  pass: ["one", "two"],
  body: ["box", "none"],
};

const NUMBERS = [0, 1, -1, 0.5, 2, 3, 10, 90, 360, 0.05, 1e-12, 1e-300, 1e6, 1e9, -1e9, 1e300, -1e300] as const;
const UNITS = ["m", "mm", "deg", "s", "m/s", "deg/s", "deg/s2", "m/s3", "kg", "%", "px", "f", "parsec"] as const;
const TIMES = [
  "0 s",
  "1 s",
  "1.5 s",
  "2 s",
  3,
  "50 f",
  "00:00:02:10",
  "1e-12 s",
  "1e-9 s",
  "1e5 s",
  "1e300 s",
  "-1 s",
] as const;
const NONSENSE: readonly Value[] = [null, true, "", "word", [], {}, [[]], "-0 m", "-0", "1e999", ".nan", "~"];

/** A value for a shape: mostly of its form, at times not. */
export function anyValue(shape: Shape, random: Random, depth = 0): Value {
  if (random.below(40) === 0) return random.pick(NONSENSE);
  switch (shape.kind) {
    case "map": {
      const fields = [...shape.fields.values()].filter(
        ({ required }) => (required && random.below(30) !== 0) || random.below(4 + 2 * depth) === 0,
      );
      return Object.fromEntries(fields.map((field) => [field.name, anyValue(field.shape, random, depth + 1)]));
    }
    case "record": {
      const names = shape.known ?? NAMES[shape.names?.kind ?? "axis"];
      const count = 1 + random.below(3);
      return Object.fromEntries(
        Array.from({ length: count }, () => [random.pick(names), anyValue(shape.item, random, depth + 1)]),
      );
    }
    case "list":
      return Array.from({ length: random.below(4) }, () => anyValue(shape.item, random, depth + 1));
    case "tuple":
      return shape.items.map((item) => anyValue(item, random, depth + 1));
    case "either":
      return anyValue(random.pick(shape.options), random, depth + 1);
    case "scalar":
      return anyScalar(shape.facts, random);
  }
}

function anyScalar(facts: ScalarFacts, random: Random): Value {
  switch (facts.type) {
    case "quantity":
    case "axis-quantity":
    case "ratio":
    case "written":
      return random.below(4) === 0 ? `${random.pick(NUMBERS)} ${random.pick(UNITS)}` : random.pick(NUMBERS);
    case "time":
    case "label":
      return random.pick(TIMES);
    case "rate":
      return random.pick([25, 24, "29.97df", 23.976, 120, 0, 1e9]);
    case "name":
      return random.pick(NAMES[facts.kind]);
    case "reference":
      return random.pick(["a.rig.json", "a.camera.json", "a.set.json", "none.json", "a.move.json"]);
    case "move-key":
      return random.pick(["a.move.json#first", "a.move.json#none"]);
    case "measure":
      return random.pick(["pan.speed", "slide", "lid.framing.across", "camera.speed", "none"]);
    case "word":
      return random.pick(Object.keys(facts.words));
    case "flag":
      return random.below(2) === 0;
    case "count":
      return random.pick([1, 2, 6144, 3456, 100_000, 0, -1, 1.5]);
    case "version":
      return random.below(30) === 0 ? 2 : 1;
    case "text":
      return "text";
  }
}

/** A sound document with some of its fields, and some that it lacks, made anew. */
export function changed(kind: SchemaKind, sound: Value, random: Random): Value {
  return changedBy(SHAPES[kind], sound, random);
}

function changedBy(shape: Shape, value: Value, random: Random): Value {
  if (random.below(150) === 0) return anyValue(shape, random);
  if (shape.kind === "either") {
    const option = shape.options.find((one) => fits(one, value));
    return option ? changedBy(option, value, random) : value;
  }
  if (shape.kind === "scalar") return random.below(35) === 0 ? anyScalar(shape.facts, random) : value;
  if (Array.isArray(value)) {
    const items = value as readonly Value[];
    if (shape.kind === "list") {
      const kept = items.map((item) => changedBy(shape.item, item, random));
      const what = random.below(25);
      // At times one item twice, or none, or one that is new.
      if (what === 0 && 0 < kept.length) kept.push(kept[random.below(kept.length)]);
      if (what === 1) kept.splice(random.below(kept.length + 1), 1);
      if (what === 2) kept.splice(random.below(kept.length + 1), 0, anyValue(shape.item, random));
      return kept;
    }
    return shape.kind === "tuple"
      ? items.map((item, i) => changedBy(shape.items[i] ?? shape.items[0], item, random))
      : value;
  }
  if (typeof value !== "object" || value === null) return value;
  const out: Fields = {};
  for (const [name, item] of Object.entries(value)) {
    if (random.below(100) === 0) continue;
    const inner =
      shape.kind === "map" ? shape.fields.get(name)?.shape : shape.kind === "record" ? shape.item : undefined;
    out[name] = inner ? changedBy(inner, item, random) : item;
  }
  if (shape.kind === "map") {
    for (const field of shape.fields.values()) {
      if (!(field.name in out) && random.below(50) === 0) out[field.name] = anyValue(field.shape, random);
    }
  }
  return out;
}

function fits(shape: Shape, value: Value): boolean {
  if (Array.isArray(value)) {
    if (shape.kind === "tuple") return value.length === shape.items.length && !Array.isArray(value[0]);
    return shape.kind === "list";
  }
  if (typeof value === "object" && value !== null) return shape.kind === "map" || shape.kind === "record";
  return shape.kind === "scalar";
}
