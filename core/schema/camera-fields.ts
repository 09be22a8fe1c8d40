import * as z from "zod";
import { optional, required, withFacts } from "./facts.ts";
import { count, fNumber, quantity, name, text, version, word } from "./field-types.ts";
import {
  allowField,
  either,
  fields,
  list,
  named,
  noteField,
  pair,
  point,
  triple,
  turningLimits,
} from "./shared-fields.ts";

const size = { above: 0 } as const;
const mm = () => quantity("length", size);

const motor = <Mark extends z.ZodType>(scaled: Mark, what: string) =>
  fields({
    limits: optional(
      turningLimits(),
      "Highest speed, acceleration and jerk of the motor, in angles of its scale, which they need.",
    ),
    scale: optional(
      list(withFacts(z.tuple([scaled, quantity("angle")]), { parts: `[${what}, angle]` })),
      `How the motor stands at each ${what}: two pairs or more, in order, angles that only rise or only fall. It runs smoothly between them and goes on beyond them as it ends.`,
      "none: what the motor does is not known, and not checked",
    ),
  });

const focusMark = () =>
  either("a distance, or `infinity`", [mm(), word({ infinity: "The mark of infinity." })] as const);

const pupilRow = () =>
  either("[focal, pupil], or { focal, focus, at }", [
    withFacts(z.tuple([mm(), quantity("length")]), { parts: "[focal, pupil]" }),
    fields({
      focal: optional(mm(), "Focal length of the row; a zoom needs it.", "the focal length of the lens"),
      focus: optional(
        either("a distance, or `infinity`", [mm(), word({ infinity: "Focused as far as it goes." })] as const),
        "Focus distance of the row, from the sensor plane. Each focal length may have distances of its own.",
        "any distance",
      ),
      at: required(quantity("length"), "How far the entrance pupil lies in front of the flange there."),
    }),
  ] as const);

const lens = () =>
  fields({
    focal: required(
      either("a length, or [shortest, longest] of a zoom", [
        mm(),
        pair("length", "[shortest, longest]", size),
      ] as const),
      "Focal length; of a zoom the shortest and the longest.",
    ),
    iris: optional(fNumber(), "Widest f-number. A key may close it further.", "4"),
    "close-focus": optional(
      quantity("length", { from: 0 }),
      "Nearest distance it focuses at, from the sensor plane.",
      "0 m: no limit",
    ),
    pupil: required(
      either("a length, or rows [focal, pupil] or { focal, focus, at }", [
        quantity("length"),
        list(pupilRow()),
      ] as const),
      "How far the entrance pupil lies in front of the flange. Rows go by focal length, then by focus; between them it runs smoothly, never beyond them.",
    ),
    front: optional(
      fields({
        length: required(mm(), "From the flange to the front of the barrel."),
        diameter: required(mm(), "Widest diameter of the barrel."),
      }),
      "The barrel, for clearance.",
    ),
    mass: optional(quantity("mass", { from: 0 }), "How heavy it is.", "0 kg"),
    "mass-at": optional(
      point(),
      "Where its centre of mass is, from the flange's centre in the camera's directions.",
      "half the barrel's length in front of the flange",
    ),
    squeeze: optional(quantity("number", size), "Horizontal squeeze of an anamorphic lens.", "1"),
    distortion: optional(
      fields({
        k: optional(list(quantity("number")), "Radial coefficients k1, k2, k3; those left out are 0.", "[0, 0, 0]"),
        p: optional(pair("number", "[p1, p2]"), "Tangential coefficients p1, p2.", "[0, 0]"),
      }),
      "Distortion as OpenCV has it, on normalised coordinates.",
      "none",
    ),
    centre: optional(
      pair("number", "[across, down]"),
      "Principal point off the centre, as shares of the picture.",
      "[0, 0]",
    ),
    motors: optional(
      fields({
        focus: optional(
          motor(focusMark(), "distance"),
          "The focus motor. Distances are from the sensor plane; the scale runs evenly over one over them.",
        ),
        iris: optional(
          motor(quantity("number", size), "f-number"),
          "The iris motor. The scale runs evenly over stops.",
        ),
        zoom: optional(motor(mm(), "focal length"), "The zoom motor."),
      }),
      "Lens motors, for what a rack, a zoom or a pull of the iris asks of them (`focus-speed`).",
    ),
    note: noteField(),
  });

const attachment = () =>
  fields({
    name: required(name("body", "definition"), "What findings call it."),
    box: required(triple("length", "[x, y, z]", size), "Its full sizes along the camera's x, y and z."),
    at: required(point(), "Where its centre is, from the flange's centre in the camera's directions."),
    mass: optional(quantity("mass", { from: 0 }), "How heavy it is.", "0 kg"),
  });

/** Fields of `NAME.camera.yaml`. */
export const cameraDocument = fields({
  camera: required(version(), "Says that this document is a camera, in version 1 of the language."),
  name: optional(text(), "What people call the camera.", "the file's name"),
  body: required(
    fields({
      sensor: required(pair("length", "[width, height]", size), "The area that is recorded as `resolution`."),
      resolution: required(
        withFacts(z.tuple([count(1, 100_000), count(1, 100_000)]), { parts: "[across, down]" }),
        "Captured pixels across and down.",
      ),
      flange: required(quantity("length", { from: 0 }), "How far the sensor lies behind the lens-mount flange."),
      mass: optional(quantity("mass", { from: 0 }), "How heavy it is.", "0 kg"),
      "mass-at": optional(
        point(),
        "Where its centre of mass is, from the flange's centre in the camera's directions.",
        "in the middle of the sensor",
      ),
      coc: optional(mm(), "Circle of confusion.", "the sensor's diagonal / 1500"),
    }),
    "The body.",
  ),
  lenses: required(named(lens(), "lens"), "The lenses, by name."),
  attachments: optional(list(attachment()), "What else is on the camera: matte box, monitor, transmitter."),
  shutter: optional(
    quantity("angle", { above: 0, to: 360 }),
    "Shutter angle: the share of a frame's turn for which it is exposed, for `blur` and `judder`.",
    "180 deg",
  ),
  allow: allowField(),
  note: noteField(),
});
