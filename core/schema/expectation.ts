import { DIMENSIONS } from "../base/unit-table.ts";
import { listing } from "../base/listing.ts";
import type { MapShape, ScalarShape, Shape } from "./shape.ts";

/** What a field takes, in words with an article, for messages: `a length (m, cm, mm, in or ft)`. */
export function expectation(shape: Shape): string {
  switch (shape.kind) {
    case "map":
      return `a map (${fieldNames(shape)})`;
    case "record":
      return "a map of names";
    case "list":
      return "a list";
    case "tuple":
      return shape.direction ? `a direction ${shape.parts}` : `a list ${shape.parts}`;
    case "either":
      return shape.choice;
    case "scalar":
      return scalarExpectation(shape);
  }
}

const MOST_NAMES = 5;

function fieldNames({ fields }: MapShape): string {
  const names = [...fields.keys()].map((name) => `\`${name}\``);
  return names.length > MOST_NAMES ? `${names.slice(0, MOST_NAMES).join(", ")}, ..` : names.join(", ");
}

const REFERENCE_WORDS = {
  rig: "the file of a rig",
  camera: "the file of a camera",
  set: "the file of a set",
  move: "the file of a move",
  urdf: "a URDF file",
  mesh: "the file of a mesh",
  plate: "the file of a picture",
} as const;

function scalarExpectation({ facts }: ScalarShape): string {
  switch (facts.type) {
    case "quantity": {
      const { word, spellings } = DIMENSIONS[facts.dimension];
      return spellings.length === 0 ? word : `${word} (${spellings.join(", ")})`;
    }
    case "axis-quantity":
      return ["a value of the axis", "a speed of the axis", "an acceleration of the axis", "a jerk of the axis"][
        facts.order
      ];
    case "ratio":
      return "a ratio, such as -1 or `2 deg/mm`";
    case "time":
      return "a time: seconds, frames (`60 f`) or a timecode label";
    case "label":
      return "a timecode label, such as `01:00:00:00`";
    case "rate":
      return "a frame rate, such as 25 or 29.97df";
    case "written":
      return "a number, with its unit if it has one";
    case "text":
      return "text";
    case "name":
      return facts.kind === "axis" ? "the name of an axis" : `the name of a ${facts.kind}`;
    case "reference":
      return REFERENCE_WORDS[facts.to];
    case "move-key":
      return "a key of a move, such as `lid.move.yaml#top`";
    case "measure":
      return "a quantity of the motion, such as `pan.speed`";
    case "word":
      return listing(Object.keys(facts.words));
    case "flag":
      return "`true` or `false`";
    case "count":
      return "a whole number";
    case "version":
      return "the number 1";
  }
}
