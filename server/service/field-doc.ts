import { DIMENSIONS } from "../../core/base/unit-table.ts";
import { expectation } from "../../core/schema/expectation.ts";
import type { ScalarFacts } from "../../core/schema/facts.ts";
import type { FieldShape, Shape } from "../../core/schema/shape.ts";
import { code, paragraphs } from "./markdown.ts";

/** What a field is for, what it takes and what holds without it, in Markdown. */
export function fieldDoc(field: FieldShape): string {
  const takes = `Takes ${typeWords(field.shape)}.`;
  const without = field.required
    ? "It must be given."
    : field.fallback === undefined
      ? ""
      : `Left out: ${/^[-\d.[]/.test(field.fallback) ? code(field.fallback) : field.fallback.replace(/[. ]+$/, "")}.`;
  return paragraphs([field.doc, `${takes} ${without}`.trim()]);
}

/** What a value may be, in a few words: `a length (m, cm, mm, in, ft)`, `a list`, `the name of a target`. */
export function typeWords(shape: Shape): string {
  switch (shape.kind) {
    case "map":
      return "a map";
    case "record":
      return shape.names ? `a map by ${shape.names.kind}` : "a map";
    case "list":
      return "a list";
    case "tuple":
      return shape.parts;
    case "either":
      return shape.choice;
    case "scalar":
      return scalarWords(shape.facts) ?? expectation(shape);
  }
}

const AXIS_WORDS = [
  "a length or an angle, as the axis moves",
  "a speed, m/s or deg/s as the axis moves",
  "an acceleration, m/s2 or deg/s2 as the axis moves",
  "a jerk, m/s3 or deg/s3 as the axis moves",
] as const;

/** Where there is more room to say it than a finding has; elsewhere a value is called what findings call it. */
function scalarWords(facts: ScalarFacts): string | undefined {
  switch (facts.type) {
    case "quantity": {
      const { word, spellings, bare } = DIMENSIONS[facts.dimension];
      if (spellings.length === 0) return word;
      const bareWords = bare === "" ? "" : `; a bare number is in ${bare}`;
      return `${word} (${spellings.join(", ")}${bareWords})`;
    }
    case "axis-quantity":
      return AXIS_WORDS[facts.order];
    case "name":
      return facts.role === "use" ? undefined : `a name for the ${facts.kind}`;
    case "reference":
      return `a ${facts.to} file, relative to this document`;
    case "word":
      return Object.keys(facts.words)
        .map((word) => `\`${word}\``)
        .join(", ");
    default:
      return undefined;
  }
}
