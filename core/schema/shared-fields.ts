import * as z from "zod";
import type { Dimension } from "../base/dimension.ts";
import { optional, required, withFacts, type NameKind } from "./facts.ts";
import { axisQuantity, name, nameFault, quantity, reference, text, type Bounds } from "./field-types.ts";

/** Three numbers of one dimension. */
export const triple = (dimension: Dimension, parts: string, bounds: Bounds = {}) => {
  const each = quantity(dimension, bounds);
  return withFacts(z.tuple([each, each, each]), { parts });
};

/** Two numbers of one dimension. */
export const pair = (dimension: Dimension, parts: string, bounds: Bounds = {}) => {
  const each = quantity(dimension, bounds);
  return withFacts(z.tuple([each, each]), { parts });
};

export const point = () => triple("length", "[x, y, z]");

/** A direction: its length does not matter, but is not zero. */
export const direction = () => {
  const each = quantity("number");
  return withFacts(z.tuple([each, each, each]), { parts: "[x, y, z]", direction: true });
};

export const turn = () => triple("angle", "[roll, pitch, yaw]");

/** A map whose names are free. */
export const named = <S extends z.ZodType>(item: S, kind: NameKind, role: "definition" | "use" = "definition") =>
  withFacts(
    z.record(
      z.string().refine((given) => nameFault(given) === undefined),
      item,
    ),
    { names: { kind, role } },
  );

export const list = <S extends z.ZodType>(item: S) => z.array(item);

/** One of several forms, told apart by what is written: a map, a list, or a single value. */
export const either = <const O extends readonly [z.ZodType, ...z.ZodType[]]>(choice: string, options: O) =>
  withFacts(z.union(options), { choice });

export const fields = <F extends z.core.$ZodLooseShape>(shape: F) => z.strictObject(shape);

export const allow = () =>
  list(
    fields({
      code: required(text(), "Code of the finding that is allowed, such as `axis-speed`."),
      reason: optional(
        text(),
        "Why it is allowed. Shown beside the finding; an allow without it does not count.",
        "none",
      ),
    }),
  );

export const allowField = () =>
  optional(allow(), "Findings that are allowed here, each with its reason. An allow that allows nothing is a finding.");

export const noteField = () => optional(text(), "Free text for people; nothing reads it.");

/** Limits of an axis whose type is known elsewhere. */
export const axisLimits = () =>
  fields({
    speed: optional(axisQuantity(1), "Highest speed, m/s or deg/s.", "no limit"),
    accel: optional(axisQuantity(2), "Highest acceleration, m/s2 or deg/s2.", "no limit"),
    jerk: optional(axisQuantity(3), "Highest jerk, m/s3 or deg/s3.", "no limit"),
  });

/** Limits of something that turns. */
export const turningLimits = () =>
  fields({
    speed: optional(quantity("angle-speed", { above: 0 }), "Highest speed.", "no limit"),
    accel: optional(quantity("angle-accel", { above: 0 }), "Highest acceleration.", "no limit"),
    jerk: optional(quantity("angle-jerk", { above: 0 }), "Highest jerk.", "no limit"),
  });

/** How well an axis comes back to a value. */
export const repeatFields = () =>
  fields({
    sigma: optional(
      axisQuantity(0),
      "Standard deviation with which the axis comes back to a value in each pass.",
      "unknown",
    ),
    slip: optional(
      quantity("number", { from: 0 }),
      "Standard deviation of what a pass loses for each metre or degree travelled, the way back included, such as `1.5 mm/m`. It adds up from pass to pass.",
      "unknown",
    ),
    backlash: optional(
      axisQuantity(0),
      "Lost motion when the axis turns back. Passes come to each place from the same side, so it is the same in all of them.",
      "unknown",
    ),
  });

const size = { above: 0 } as const;

const MEASURED_MESH =
  "A mesh from a file; `at` is where its own origin is. The stage draws it as it is. Clearances are measured to its convex hull: hollows and holes count as solid, so a hollow body is better made of several.";
const DRAWN_MESH =
  "A mesh from a file; `at` is where its own origin is. The stage draws it as it is, in the base colours that a glTF file states.";

/** The shape of a body: exactly one of these. */
export const solidFields = (meshDoc = MEASURED_MESH) => ({
  box: optional(triple("length", "[x, y, z]", size), "A box: its full sizes along x, y and z."),
  cylinder: optional(
    fields({
      radius: required(quantity("length", size), "Radius."),
      height: required(quantity("length", size), "Full height, along z of its own frame."),
    }),
    "A cylinder that stands along z.",
  ),
  capsule: optional(
    fields({
      radius: required(quantity("length", size), "Radius of the barrel and the caps."),
      height: required(quantity("length", size), "Full height along z, caps included."),
    }),
    "A cylinder along z with round caps.",
  ),
  sphere: optional(fields({ radius: required(quantity("length", size), "Radius.") }), "A sphere."),
  mesh: optional(
    fields({
      file: required(
        reference("mesh"),
        "File of the mesh: STL, OBJ, glTF or GLB, of 8 MB or less. STL and OBJ are taken as they are, z up; glTF is y up by its standard and is turned, so that its y is up here and its x stays.",
      ),
      scale: optional(quantity("number", size), "Metres for one unit of the mesh.", "1"),
    }),
    meshDoc,
  ),
});

/** A solid that stands in the set, and is measured to. */
export const standing = () => standingFields();

/** One that is but drawn. */
export const dressed = () => standingFields(DRAWN_MESH);

const standingFields = (meshDoc?: string) =>
  fields({
    at: required(point(), "Where its centre is, in the set, or in the frame of the turntable that it stands on."),
    turn: optional(turn(), "How it is turned: roll, pitch, yaw about the axes of the same frame.", "[0, 0, 0]"),
    on: optional(name("turntable"), "The turntable that it stands on: it turns along.", "none"),
    ...solidFields(meshDoc),
  });

/** Which camera and lens. */
export const cameraUse = () =>
  fields({
    use: required(reference("camera"), "The camera's document, relative to this one."),
    lens: required(name("lens"), "One of the lenses of that camera."),
  });

/** Where the base of the rig stands. */
export const placeFields = () =>
  fields({
    at: required(
      either("[x, y], or the name of a mark", [pair("length", "[x, y]"), name("mark")] as const),
      "Where the base stands on the floor: [x, y] in the set, or the name of a mark that it stands on.",
    ),
    heading: optional(quantity("angle"), "How the base is turned about the set's z.", "0 deg"),
    lean: optional(
      pair("angle", "[roll, pitch]"),
      "How the base leans: about its own x, then about its own y. An uneven floor, an imperfect levelling.",
      "[0, 0]",
    ),
  });

/** Values of axes by name. */
export const axisValues = () => named(axisQuantity(0), "axis", "use");
