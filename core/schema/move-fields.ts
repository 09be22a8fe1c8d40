import * as z from "zod";
import { optional, required, withFacts } from "./facts.ts";
import {
  count,
  label,
  measure,
  name,
  quantity,
  rate,
  reference,
  text,
  time,
  version,
  word,
  writtenNumber,
} from "./field-types.ts";
import { measureDoc } from "./measure-doc.ts";
import {
  allowField,
  axisValues,
  cameraUse,
  direction,
  either,
  fields,
  list,
  named,
  noteField,
  placeFields,
  point,
} from "./shared-fields.ts";

import { key } from "./key-fields.ts";

const pass = () =>
  fields({
    name: required(name("pass", "definition"), "What the pass is called."),
    times: optional(count(1, 10_000), "How often it is taken.", "1"),
    targets: optional(
      named(fields({ shift: required(point(), "How far the target is off its place in this pass.") }), "target", "use"),
      "Targets that stand elsewhere in this pass.",
    ),
    note: noteField(),
  });

const wayBack = () =>
  either("`reversed`, `none`, { speed }, or { time, via }", [
    word({
      reversed: "The way the rig came, backwards, at half the speed of the take.",
      none: "The rig does not come back by its own motors: it is set anew for each take.",
    }),
    fields({
      speed: optional(
        quantity("share", { above: 0, to: 1 }),
        "The way the rig came, backwards, at this share of the take's speed.",
        "50 %",
      ),
      time: optional(
        time(),
        "Not the way it came: all axes and turntables go from their last values to their first at once, from rest to rest with least jerk, in this time. It is real time: `speed:` of the move does not change it.",
      ),
      via: optional(
        list(
          fields({
            at: required(quantity("share", { above: 0, to: 1 }), "When: a share of `time`."),
            axes: required(axisValues(), "Values of axes and turntables to pass through then; others pass smoothly."),
            note: noteField(),
          }),
        ),
        "What the axes pass through on the way, in order of time.",
      ),
    }),
  ] as const);

const expectation = () =>
  fields({
    of: required(measure(), measureDoc()),
    below: optional(writtenNumber(), "It stays below this."),
    above: optional(writtenNumber(), "It stays above this."),
    between: optional(
      withFacts(z.tuple([writtenNumber(), writtenNumber()]), { parts: "[lowest, highest]" }),
      "It stays between these.",
    ),
    at: optional(time(), "When: at this one time.", "all the time"),
    from: optional(time(), "From when on.", "the start"),
    to: optional(time(), "Until when.", "the end"),
    note: noteField(),
  });

const pixels = () => withFacts(z.tuple([count(1, 100_000), count(1, 100_000)]), { parts: "[across, down]" });

/** Fields of `NAME.move.yaml`. */
export const moveDocument = fields({
  move: required(version(), "Says that this document is a move, in version 1 of the language."),
  title: optional(text(), "What people call the move.", "the file's name"),
  rig: required(reference("rig"), "The rig's document, relative to this one."),
  camera: required(cameraUse(), "The camera and the lens."),
  set: optional(reference("set"), "The set's document, relative to this one.", "an empty set"),
  rate: optional(rate(), "Frames a second: 24, 25, 23.976, 29.97df and so on.", "25"),
  start: optional(label(), "The timecode label of the first frame. It shifts labels only.", "00:00:00:00"),
  deliver: optional(
    either("[across, down], or { size, crop }", [
      pixels(),
      fields({
        size: required(pixels(), "Pixels that are delivered."),
        crop: required(pixels(), "Captured pixels that are scaled to them."),
      }),
    ] as const),
    "The delivered crop, centred, in captured pixels; `size` says that it is scaled.",
    "the whole captured picture",
  ),
  stabilise: optional(
    quantity("share", { from: 0, to: 0.5 }),
    "Share of the captured width and height that post will crop to stabilise, half of it on each side. The delivered crop must leave it.",
    "0 %",
  ),
  plate: optional(
    either("FILE, or { file, opacity, fills }", [
      reference("plate"),
      fields({
        file: required(
          reference("plate"),
          "The picture, relative to this document: PNG, JPEG or WebP of 8 MB or less.",
        ),
        opacity: optional(
          quantity("share", { from: 0, to: 1 }),
          "How much it covers when the stage is opened; a slider changes it there.",
          "50 %",
        ),
        fills: optional(
          word({
            captured: "It is stretched to the whole captured picture.",
            delivered: "It is stretched to the delivered crop.",
          }),
          "What it is stretched to.",
          "captured",
        ),
      }),
    ] as const),
    "A picture to compare the view through the lens with, such as a still of an earlier take: the stage lays it over or behind that view. Nothing is checked with it.",
    "none",
  ),
  place: optional(placeFields(), "Where the base of the rig stands.", "at [0, 0], heading 0"),
  setup: optional(axisValues(), "Values of the axes that are set before the take."),
  near: optional(axisValues(), "Values near which aiming axes begin, where several would do.", "0"),
  up: optional(direction(), "What counts as up for a rig without a head.", "[0, 0, 1]"),
  speed: optional(
    quantity("share", { above: 0, to: 100 }),
    "Plays the whole move slower or faster: key times are written time.",
    "100 %",
  ),
  keys: required(list(key()), "The keys, in order of time."),
  passes: optional(list(pass()), "Passes of the same move, one for each variant of the subject."),
  return: optional(
    wayBack(),
    "How the rig comes back to the first key between takes. Holds are not held on the way, the head does not aim, and turntables turn back too. It is checked as the take is.",
    "reversed; none is needed where the move ends as it begins",
  ),
  tolerance: optional(
    fields({
      match: optional(quantity("pixels", { above: 0 }), "How far passes may differ.", "2 px"),
      aim: optional(quantity("pixels", { above: 0 }), "How far the subject may be off its framing.", "4 px"),
      clearance: optional(
        quantity("length", { from: 0 }),
        "Least distance of the rig, the camera, the lens and what is attached to it from obstacles, people and the floor. What the base itself carries stands as it was put up: it may be as near as it likes, and stand on the floor. What keeps its height over the base in the take, such as wheels on rails, may be as near to the floor as it likes, not below it.",
        "50 mm",
      ),
      "self-clearance": optional(
        quantity("length", { from: 0 }),
        "Least distance between parts of the rig and the camera that move against each other. Parts that stand nearer than this with every axis at 0, or the nearest end of its range, may only not meet. How the rig states what is built to touch: `touching`.",
        "10 mm",
      ),
      "near-limit": optional(
        quantity("share", { above: 0, to: 1 }),
        "Share of a limit above which `near-limit` informs.",
        "90 %",
      ),
      blur: optional(
        quantity("pixels", { above: 0 }),
        "How far the subject may smear while the shutter is open: speed in the picture times the exposure. The subject is what is aimed at; without an aim what is focused on, else the far background in the middle. In a change of aim it is the one that moves less.",
        "no limit: a pan smears, and `expect` and the key's table tell by how much",
      ),
      crossing: optional(
        quantity("time", { above: 0 }),
        "Least time in which the subject, or the far background where there is none, may cross the delivered picture's width.",
        "by common practice: 7 s at 24 frames a second and a shutter of 180 deg, as many frames at any other rate",
      ),
      people: optional(
        either("a distance, or { stop }", [
          quantity("length", { from: 0 }),
          fields({
            stop: required(
              quantity("time", { from: 0, to: 60 }),
              "How long the rig takes to come to rest once somebody stops it. The distance is then reckoned as ISO 13855 does: 1600 mm/s of somebody who walks up, for this time, and 850 mm of a stretched arm.",
            ),
          }),
        ] as const),
        "Distance to people within which nothing of the rig and the camera is to move faster than 250 mm/s, the reduced speed of ISO 10218-1.",
        "850 mm, a stretched arm in ISO 13855",
      ),
    }),
    "What is close enough.",
  ),
  expect: optional(list(expectation()), "The move's own tests: what must hold of it, checked with everything else."),
  allow: allowField(),
  note: noteField(),
});
