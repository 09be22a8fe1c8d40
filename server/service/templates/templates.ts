import type { TextFormat } from "../../../core/model/document-kind.ts";
import type { TemplateKind } from "../../../protocol/templates.ts";
import { fields, jsonText, yamlText, type Fields, type WrittenDocument } from "./templates-text.ts";

/** What each template says of its own figures. */
const ABOUT: Readonly<Record<TemplateKind, string>> = {
  rig: "These figures are invented: put in those of your rig. What it may do is in its manual, which decides.",
  camera: "These figures are invented: put in those of your camera and your lenses, measured or from their makers.",
  set: "These places and sizes are invented: measure yours. x goes into the set, y to the left, z up; in metres.",
  move: "Times and values are invented; they keep the limits that the rig's document states. The rig's manual decides.",
  shoot: "The shots are those of the folder, in the order of their names; the times are invented.",
};

/** Writes a document of a kind in either notation. */
export function templateText(kind: TemplateKind, format: TextFormat, document: Fields): WrittenDocument {
  return format === "json" ? jsonText(ABOUT[kind], document) : yamlText(ABOUT[kind], document);
}

/** A slider with a head that pans and tilts: the least that a rig can be and still aim. */
export function rigTemplate(name: string): Fields {
  return fields(
    ["rig", 1],
    ["name", name],
    {
      name: "chain",
      comment: "from the base to the camera, in order",
      value: [
        fields(
          { name: "axis", value: "slide", comment: "along the rail in metres, positive to the left", first: true },
          ["type", "linear"],
          ["along", [0, 1, 0]],
          ["origin", fields(["at", [0, 0, 0.9]])],
          ["range", [-0.6, 0.6]],
          ["limits", fields(["speed", 0.2], ["accel", 0.3], ["jerk", 2])],
        ),
        fields(
          { name: "axis", value: "pan", comment: "in degrees, positive to the left" },
          ["type", "rotary"],
          ["along", [0, 0, 1]],
          ["origin", fields(["at", [0, 0, 0.1]])],
          ["range", [-170, 170]],
          ["limits", fields(["speed", 30], ["accel", 45], ["jerk", 250])],
        ),
        fields(
          { name: "axis", value: "tilt", comment: "in degrees, positive up" },
          ["type", "rotary"],
          ["along", [0, -1, 0]],
          ["origin", fields(["at", [0, 0, 0.13]])],
          ["range", [-75, 60]],
          ["limits", fields(["speed", 30], ["accel", 45], ["jerk", 250])],
        ),
      ],
    },
    { name: "head", value: fields(["pan", "pan"], ["tilt", "tilt"]), comment: "the axes that aim" },
    { name: "camera-mount", value: fields(["at", [0.05, 0, 0.02]]), comment: "the middle of the lens mount" },
  );
}

export function cameraTemplate(name: string): Fields {
  return fields(
    ["camera", 1],
    ["name", name],
    {
      name: "body",
      value: fields(
        { name: "sensor", value: ["36 mm", "20.25 mm"], comment: "the area that is recorded", first: true },
        { name: "resolution", value: [6144, 3456], comment: "as so many pixels" },
        { name: "flange", value: "44 mm", comment: "from the mount back to the sensor" },
        ["mass", "1.9 kg"],
        { name: "coc", value: "0.03 mm", comment: "what still counts as sharp" },
      ),
    },
    {
      name: "lenses",
      value: fields([
        "prime-35",
        fields(
          ["focal", "35 mm"],
          ["iris", 2.8],
          { name: "close-focus", value: "0.3 m", comment: "from the sensor" },
          { name: "pupil", value: "50 mm", comment: "the entrance pupil in front of the mount" },
          ["mass", "0.7 kg"],
        ),
      ]),
    },
    ["shutter", "180 deg"],
  );
}

export function setTemplate(name: string): Fields {
  return fields(
    ["set", 1],
    ["name", name],
    {
      name: "targets",
      comment: "what a camera aims at and focuses on",
      value: fields({ name: "subject", value: fields({ name: "at", value: [2, 0, 1], first: true }) }),
    },
    {
      name: "obstacles",
      comment: "what the rig must keep away from: full sizes, and where the middle is",
      value: fields(["table", fields(["box", [0.6, 0.6, 0.85]], ["at", [2, 0, 0.425]])]),
    },
  );
}

/** A day of these moves, by their references. */
export function shootTemplate(name: string, moves: readonly string[]): Fields {
  return fields(["shoot", 1], ["name", name], {
    name: "shots",
    value: moves.map((move, idx) =>
      fields({ name: "move", value: move, first: idx === 0 }, ["setup-time", "30 min"], ["pass-time", "5 min"]),
    ),
  });
}
