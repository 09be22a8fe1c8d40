import { optional, required } from "./facts.ts";
import { count, name, quantity, reference, text, time, version } from "./field-types.ts";
import {
  allowField,
  axisValues,
  cameraUse,
  direction,
  dressed,
  fields,
  list,
  named,
  noteField,
  pair,
  placeFields,
  point,
  repeatFields,
  standing,
  turningLimits,
} from "./shared-fields.ts";

const sight = () =>
  fields({
    rig: required(reference("rig"), "The rig that was sighted with."),
    camera: required(cameraUse(), "The camera and lens."),
    place: required(placeFields(), "Where the rig stood."),
    setup: optional(axisValues(), "Values of the axes that are set before a take."),
    axes: required(axisValues(), "What the axes read."),
    framing: optional(pair("number", "[across, down]"), "Where the target was in the captured picture.", "[0.5, 0.5]"),
    zoom: optional(quantity("length", { above: 0 }), "Focal length of a zoom."),
    note: noteField(),
  });

const target = () =>
  fields({
    at: optional(point(), "Its place in the set, or in the frame of the turntable that it stands on."),
    on: optional(name("turntable"), "The turntable that it stands on: it turns along.", "none"),
    follow: optional(
      list(
        fields({
          at: required(time(), "When, from the start of the move in real time: `speed:` of a move does not slow it."),
          to: required(point(), "Where it is then."),
        }),
      ),
      "A target that moves by itself: places over time, joined smoothly.",
    ),
    sights: optional(list(sight()), "Sights from two places or more that locate it. They are read, not yet computed."),
    note: noteField(),
  });

const turntable = () =>
  fields({
    at: required(point(), "The point that it turns about, origin of its frame."),
    along: optional(direction(), "Direction that it turns about, right-handed.", "[0, 0, 1]"),
    range: optional(pair("angle", "[lowest, highest]"), "Lowest and highest angle.", "no limit"),
    limits: optional(turningLimits(), "Highest speed, acceleration and jerk."),
    repeat: optional(repeatFields(), "How well the turntable comes back to an angle."),
    repeats: optional(
      count(1, 100_000),
      "How often what stands on it repeats round the axis: stripes of a glaze, facets, spokes. Turned by half of such a step or more between two frames, it seems to turn backwards or to stand (`judder`).",
      "it does not repeat",
    ),
    note: noteField(),
  });

/** Fields of `NAME.set.yaml`. */
export const setDocument = fields({
  set: required(version(), "Says that this document is a set, in version 1 of the language."),
  name: optional(text(), "What people call the set.", "the file's name"),
  targets: optional(named(target(), "target"), "Points to aim and focus at, by name."),
  turntables: optional(named(turntable(), "turntable"), "Turntables, by name. A move keys them as axes."),
  obstacles: optional(named(standing(), "body"), "What stands in the set, by name."),
  dressing: optional(
    named(dressed(), "body"),
    "What dresses the picture, by name: a table of cups behind the pot, a wall with its shelf. The stage and pictures draw it, lighter than obstacles; nothing is checked against it, so what the rig may hit belongs to `obstacles`.",
  ),
  people: optional(
    named(standing(), "body"),
    "Where people are, by name: the finding `people` tells what of the rig comes near to them, and what is fast beside them.",
  ),
  floor: optional(quantity("length"), "Height of the floor.", "0 m"),
  marks: optional(
    named(fields({ at: required(point(), "Its place in the set."), note: noteField() }), "mark"),
    "Surveyed points that the rig can be measured in from, by name.",
  ),
  allow: allowField(),
  note: noteField(),
});
