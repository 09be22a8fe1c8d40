import { optional, required } from "./facts.ts";
import { axisQuantity, bodyName, name, quantity, ratio, reference, text, version, word } from "./field-types.ts";
import {
  either,
  fields,
  list,
  named,
  pair,
  point,
  direction,
  repeatFields,
  solidFields,
  turn,
  axisLimits,
} from "./shared-fields.ts";
import { allowField, noteField } from "./shared-fields.ts";
import { withFacts } from "./facts.ts";
import * as z from "zod";

const follows = () =>
  fields({
    axis: required(name("axis"), "The axis that leads."),
    ratio: optional(
      ratio(),
      "Units of this axis for one of the leader: value = ratio · leader + offset. Between a linear and a rotary axis the unit is written, as in `2 deg/mm`.",
      "1",
    ),
    offset: optional(axisQuantity(0), "Value of this axis where the leader is at 0.", "0"),
  });

/** Lowest and highest value of an axis. */
const ends = () => withFacts(z.tuple([axisQuantity(0), axisQuantity(0)]), { parts: "[lowest, highest]" });

/** What there is to say of an axis beyond its geometry and limits. */
const drivenFields = () => ({
  repeat: optional(repeatFields(), "How well the axis comes back to a value."),
  drive: optional(
    word({
      take: "The axis moves during a take.",
      setup: "The axis is set by hand before a take and rests in it.",
    }),
    "When the axis moves.",
    "take",
  ),
  positions: optional(
    list(axisQuantity(0)),
    "The few values that a `drive: setup` axis can be set to.",
    "any in range",
  ),
});

/** What URDF can't say of an axis, or what is to be narrower than the file says. */
const urdfAxis = () =>
  fields({
    range: optional(
      ends(),
      "Lowest and highest value of the axis: within those of the file, or in their place where it states none.",
      "the file's limits",
    ),
    limits: optional(
      axisLimits(),
      "Highest speed, acceleration and jerk. URDF has none but the speed; one that is given here holds in its place.",
    ),
    ...drivenFields(),
    note: noteField(),
  });

const joint = () =>
  fields({
    axis: required(name("axis", "definition"), "Name of the axis. The link behind it has the same name."),
    type: required(
      word({
        linear: "Slides along `along`; values in metres.",
        rotary: "Turns about `along`, right-handed; values in degrees.",
        fixed: "Does not move: only a place and a turn.",
      }),
      "How the link moves against the one before it.",
    ),
    along: optional(direction(), "Direction that it slides along or turns about, in its own frame.", "[0, 0, 1]"),
    origin: optional(
      fields({
        at: optional(point(), "Place in the frame of the link before.", "[0, 0, 0]"),
        turn: optional(
          turn(),
          "Turn against the link before, about its fixed axes: roll, then pitch, then yaw.",
          "[0, 0, 0]",
        ),
      }),
      "Where the link's frame is when the axis is at 0.",
    ),
    range: optional(ends(), "Lowest and highest value of the axis.", "no limit"),
    limits: optional(axisLimits(), "Highest speed, acceleration and jerk."),
    ...drivenFields(),
    follows: optional(follows(), "Binds the axis to another: it is not driven, it goes along."),
    note: noteField(),
  });

const body = () =>
  fields({
    name: optional(name("body", "definition"), "What findings call it.", "the name of its link"),
    on: required(name("axis"), "The link that carries it, named after its axis, or `base`."),
    at: optional(point(), "Where its centre is, in the frame of the link.", "[0, 0, 0]"),
    turn: optional(turn(), "How it is turned against the link.", "[0, 0, 0]"),
    ...solidFields(),
  });

const mass = () =>
  fields({
    name: optional(text(), "What sheets call it."),
    on: required(name("axis"), "The link that carries it, named after its axis, or `base`."),
    at: optional(point(), "Where its centre of mass is, in the frame of the link.", "[0, 0, 0]"),
    mass: required(quantity("mass", { from: 0 }), "How heavy it is."),
  });

const corners = () => list(pair("length", "[x, y]"));

const support = () =>
  either("a list of corners [x, y], or { on, corners, margin }", [
    corners(),
    fields({
      on: optional(
        name("axis"),
        "What rolls or slides along with the feet: a link that nothing tilts, named after its axis, such as a dolly on a track. Masses before it do not rest on these feet.",
        "base",
      ),
      corners: required(corners(), "The corners [x, y] in the frame of that link: three or more."),
      margin: optional(
        quantity("share", { from: 0, to: 0.9 }),
        "Where `tip-over` warns: the share of the way from the middle of the polygon to an edge that is to stay free.",
        "20 %",
      ),
    }),
  ] as const);

/** Fields of `NAME.rig.yaml`. */
export const rigDocument = fields({
  rig: required(version(), "Says that this document is a rig, in version 1 of the language."),
  name: optional(text(), "What people call the rig.", "the file's name"),
  chain: optional(
    list(joint()),
    "The links from the base to the camera, in order: one serial chain. Required unless `urdf` names a file.",
  ),
  urdf: optional(
    reference("urdf"),
    "A URDF file (`NAME.urdf`) to take the chain from, in place of `chain`: joints from its root to its tip become axes of the same names, with their limits; a joint that mimics another follows it. Masses, collision shapes and meshes become masses and bodies. A link that hangs by fixed joints is carried along; one that joints beside the chain move is left out.",
  ),
  tip: optional(
    text(),
    "The link of the URDF file that the camera mount is on: the last of the chain.",
    "the only link that carries no other",
  ),
  axes: optional(
    named(urdfAxis(), "axis", "use"),
    "What the URDF file does not say of its axes, or what is to be narrower than it says: by the name of the joint.",
  ),
  head: optional(
    fields({
      pan: required(name("axis"), "The axis that pans."),
      tilt: required(name("axis"), "The axis that tilts."),
      roll: optional(name("axis"), "The axis that rolls.", "none: the roll is free"),
    }),
    "The axes that aim. Without a head the last driven turning axes of the chain aim, at most three.",
  ),
  "camera-mount": optional(
    fields({
      at: optional(point(), "Place of the flange's centre in the frame of the last link.", "[0, 0, 0]"),
      turn: optional(turn(), "Turn of the camera against the last link; x is the view, y left, z up.", "[0, 0, 0]"),
    }),
    "Where the centre of the lens-mount flange is on the last link.",
  ),
  bodies: optional(
    list(body()),
    "Solids on links: what is drawn, and what clearance is measured from. Those that move against each other in a take are checked against each other too, but for those that touch, or are less than 1 mm apart, with every axis at 0 or the nearest end of its range; both sides of one turning axis that both reach that axis: a hinge; and those in `touching`.",
  ),
  touching: optional(
    list(withFacts(z.tuple([bodyName(), bodyName()]), { parts: "[one, other]" })),
    "Pairs of bodies, by their names, that are built to touch or to go into each other in some pose: they are not checked against each other.",
  ),
  masses: optional(
    list(mass()),
    "Masses on links, for balance and tip-over. What the camera document weighs comes on top.",
  ),
  counterweight: optional(
    fields({
      on: required(name("axis"), "The link that carries it."),
      at: required(point(), "Where its centre of mass is, in the frame of the link."),
      mass: required(quantity("mass", { from: 0 }), "How heavy it is."),
      tolerance: optional(
        quantity("share", { from: 0 }),
        "What may be left unbalanced, as a share of the moment that all else on the arm has with the arm level.",
        "10 %",
      ),
    }),
    "The weight that balances the arm about the turning axis of its link, or the next one before it.",
  ),
  support: optional(
    support(),
    "Where the wheels or feet stand on the floor, in the frame of the base: a polygon of three corners or more, in any order. With `masses` it tells whether the rig may tip over.",
  ),
  payload: optional(
    fields({
      limit: required(
        quantity("mass", { above: 0 }),
        "Most that the head may carry: the camera's body, the lens and the attachments.",
      ),
    }),
    "What the head may carry.",
  ),
  power: optional(
    fields({
      battery: required(quantity("energy", { above: 0 }), "What one battery holds."),
      usable: optional(
        quantity("share", { above: 0, to: 1 }),
        "Share of it that is used before it is changed.",
        "80 %",
      ),
      idle: optional(quantity("power", { from: 0 }), "What the rig draws at rest.", "0 W"),
      axes: optional(
        named(quantity("power", { from: 0 }), "axis", "use"),
        "What each axis draws while it moves, on top.",
        "0 W each",
      ),
    }),
    "What the rig draws, for the power budget of a shoot and of a move's passes. What a turntable or a camera draws is no part of it.",
  ),
  allow: allowField(),
  note: noteField(),
});
