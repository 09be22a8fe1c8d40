import { DIMENSIONS, UNITS } from "../base/unit-table.ts";
import { RATES } from "../base/rate.ts";
import { SCHEMA_KINDS, SHAPES, type SchemaKind } from "./documents.ts";
import { expectation } from "./expectation.ts";
import { measureList } from "./measure-doc.ts";
import type { FieldShape, MapShape, Shape } from "./shape.ts";

const FILES: Readonly<Record<SchemaKind, string>> = {
  rig: "`NAME.rig.yaml`",
  camera: "`NAME.camera.yaml`",
  set: "`NAME.set.yaml`",
  move: "`NAME.move.yaml`",
  shoot: "`NAME.shoot.yaml`",
  config: "`movewright.config.yaml`",
};

/** The reference page of every field, in Markdown: written from the tables, never by hand. */
export function fieldsPage(): string {
  const parts = [
    "# Fields of the documents",
    "This page is written from the tables in `core/schema` by `npm run generate`; do not edit it.",
    "Each document is YAML or JSON (`.yaml`, `.yml`, `.json`) with one meaning. Paths are relative to the document.",
    ...SCHEMA_KINDS.flatMap((kind) => [`## ${title(kind)}`, `File: ${FILES[kind]}.`, ...mapSection(SHAPES[kind], "")]),
    ...unitsSection(),
  ];
  return `${parts.join("\n\n")}\n`;
}

const title = (kind: SchemaKind): string =>
  kind === "config" ? "Workspace settings" : kind[0].toUpperCase() + kind.slice(1);

/** A table of the map's fields, then a section for each map within. */
function mapSection(shape: MapShape, path: string): string[] {
  const rows = [...shape.fields.values()].map((field) => row(field, path));
  const table = ["| field | takes | left out | |", "| --- | --- | --- | --- |", ...rows].join("\n");
  const inner = [...shape.fields.values()].flatMap((field) => inside(field.shape, join(path, field.name)));
  return [table, ...inner];
}

const join = (path: string, step: string): string => (path === "" ? step : `${path}.${step}`);

function row(field: FieldShape, path: string): string {
  const otherwise = field.required ? "**required**" : (field.fallback ?? "");
  const cells = [`\`${join(path, field.name)}\``, expectation(field.shape), otherwise, field.doc];
  return `| ${cells.map((cell) => cell.replace(/\|/g, "\\|").replace(/\n/g, " ")).join(" | ")} |`;
}

/** Sections of maps and words that a field's value holds. */
function inside(shape: Shape, path: string): string[] {
  switch (shape.kind) {
    case "map":
      return [`### \`${path}\``, ...mapSection(shape, path)];
    case "record":
      return inside(shape.item, `${path}.${shape.known ? "CODE" : "NAME"}`);
    case "list":
      return inside(shape.item, `${path}[]`);
    case "either":
      return shape.options.flatMap((option) => inside(option, path));
    case "tuple":
      return [];
    case "scalar": {
      if (shape.facts.type === "measure") return [`\`${path}\` is one of:\n\n${measureList()}`];
      if (shape.facts.type !== "word") return [];
      const words = Object.entries(shape.facts.words).map(([word, doc]) => `- \`${word}\`: ${doc}`);
      return [`\`${path}\` is one of:\n\n${words.join("\n")}`];
    }
  }
}

function unitsSection(): string[] {
  const rows = Object.entries(DIMENSIONS).map(([, { word, bare, spellings }]) => {
    const units = spellings.map((spelling) => `\`${spelling}\``).join(", ");
    return `| ${word} | ${bare === "" ? "-" : `\`${bare}\``} | ${units === "" ? "none" : units} |`;
  });
  const spellings = Object.keys(UNITS).map((unit) => `\`${unit}\``);
  return [
    "## Numbers and units",
    "A number may carry its unit, with or without a space: `35 mm`, `12 deg/s`, `-0.4 ft`, `50 %`. A bare number counts in the unit of this table.",
    ["| what | bare number | units |", "| --- | --- | --- |", ...rows].join("\n"),
    `All spellings: ${spellings.join(", ")}. They join to quotients: \`mm/s\`, \`deg/s2\` (also \`deg/s^2\`, \`deg/s²\`, \`deg/s/s\`), \`1.5 mm/m\`, \`2 deg/mm\`.`,
    "A share is `50 %` or the bare number 0.5.",
    "## Times and rates",
    "A time is seconds (`2.4 s`, or bare `2.4`), frames (`60 f`), or a timecode label at the move's rate less `start` (`00:00:02:10`). At a drop-frame rate `;` stands before the frames.",
    `Rates with names: ${Object.keys(RATES)
      .map((rate) => `\`${rate}\``)
      .join(
        ", ",
      )}; any other whole number up to 1000 is a rate too. 23.976, 29.97, 47.952, 59.94 and 119.88 are exactly 24, 30, 48, 60 and 120 times 1000/1001.`,
  ];
}
