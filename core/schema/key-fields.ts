import * as z from "zod";
import { optional, required, withFacts } from "./facts.ts";
import { flag, fNumber, name, quantity, time, word } from "./field-types.ts";
import { allowField, axisValues, direction, either, fields, noteField, pair, point } from "./shared-fields.ts";

const framing = () =>
  either("[across, down], or { delivered: [across, down] }", [
    pair("number", "[across, down]"),
    fields({
      delivered: required(
        pair("number", "[across, down]"),
        "The same, of the delivered crop instead of the captured picture.",
      ),
    }),
  ] as const);

const aim = () =>
  either("`none`, a target, or { at, framing }", [
    word({ none: "The aim ends at this key: pan and tilt go on from their solved values to keyed ones." }),
    name("target"),
    fields({
      at: optional(name("target"), "The target to aim at.", "the target aimed at before"),
      framing: optional(
        framing(),
        "Where the target is in the captured picture: 0 to 1 from the left edge, 0 to 1 from the top edge.",
        "[0.5, 0.5] at the first aim, then interpolated",
      ),
    }),
  ] as const);

const cameraPoint = () =>
  fields({
    at: optional(point(), "Where the entrance pupil is, in the set. Either this or `from`."),
    from: optional(name("target"), "The target that `offset` counts from, at this key's time."),
    offset: optional(point(), "From that target to the entrance pupil, in the set's directions."),
    in: optional(
      name("turntable"),
      "The turntable whose directions `offset` is in: it turns along.",
      "the set's directions",
    ),
  });

const path = () =>
  either("`axes`, `line`, or { arc: .. }", [
    word({
      axes: "Each axis goes smoothly from key to key; the camera goes where they take it.",
      line: "The entrance pupil goes in a straight line.",
    }),
    fields({
      arc: required(
        fields({
          via: optional(point(), "A point of the set that the arc goes through."),
          about: optional(
            name("target"),
            "The target that the arc goes about, the shorter way round, and moves along with. Distance and height over it change evenly with the angle.",
          ),
          along: optional(direction(), "Direction of the axis of an arc about a target.", "[0, 0, 1]"),
        }),
        "The entrance pupil goes along an arc.",
      ),
    }),
  ] as const);

const handles = () => {
  const [across, up] = [quantity("number", { from: 0, to: 1 }), quantity("number", { from: -1000, to: 1000 })];
  return withFacts(z.tuple([across, up, across, up]), { parts: "[x1, y1, x2, y2]" });
};

const ease = () =>
  either("`minimum-jerk`, { linear: { ramp } }, or { cubic: [x1, y1, x2, y2] }", [
    word({
      "minimum-jerk": "With least jerk from rest to rest: highest speed 1.875 times the mean, at half the time.",
    }),
    fields({
      linear: optional(
        fields({
          ramp: required(time(), "How long the speed takes to rise, and to fall again: half the way at most."),
        }),
        "Constant speed between two ramps of equal length.",
      ),
      cubic: optional(
        handles(),
        "The cubic Bézier curve of CSS Easing Functions Level 1: x of the handles 0 to 1, any y. One above 1 or below 0 overshoots.",
      ),
      ramp: optional(
        time(),
        "How long the ends of `cubic` are rounded to rest: half the way at most.",
        "a tenth of the way",
      ),
    }),
  ] as const);

/** One key of a move: what holds when, and how the camera gets there. */
export const key = () =>
  fields({
    at: optional(
      time(),
      "When: seconds, frames (`60 f`) or a timecode label. Each key has this or `after`.",
      "0 s at the first key",
    ),
    after: optional(time(), "When, counted from the key before, from the end of its hold."),
    name: optional(
      name("key", "definition"),
      "What findings, shoots and other keys call it.",
      "key 1, key 2 and so on",
    ),
    axes: optional(axisValues(), "Values of axes and turntables by name."),
    camera: optional(cameraPoint(), "Where the entrance pupil is: all driven axes are solved for it."),
    aim: optional(
      aim(),
      "What the camera aims at from here on, and where in the picture it is.",
      "the aim before goes on",
    ),
    focus: optional(
      either("a target, or a distance", [name("target"), quantity("length", { above: 0 })] as const),
      "What is in focus: a target, or a distance from the sensor plane.",
      "nothing is focused on",
    ),
    iris: optional(fNumber(), "f-number.", "the lens's widest"),
    zoom: optional(quantity("length", { above: 0 }), "Focal length of a zoom.", "the shortest"),
    roll: optional(
      either("`level`, or an angle", [
        word({ level: "The horizon is kept level. Near the view straight down that becomes a finding." }),
        quantity("angle"),
      ] as const),
      "Value of the roll axis, or `level`.",
      "0 deg",
    ),
    stop: optional(flag(), "Come to rest here. The first and the last key always rest.", "false"),
    hold: optional(
      time(),
      "How long everything stays here, at rest, from the key's time on. Only aims at targets that move by themselves go on.",
      "0 s",
    ),
    ease: optional(
      ease(),
      "How the channels that this key gives come to it, from rest to rest, from where each rests or is given before.",
      "one smooth curve through all keys",
    ),
    path: optional(
      path(),
      "How the camera gets to this key. On a line or an arc the axes are solved at every instant; `ease` shapes how far it has come. Between a path and a way by `axes` the camera rests.",
      "axes",
    ),
    blend: optional(
      quantity("length", { from: 0 }),
      "Rounds the corner at this key where a line or an arc meets another: from so far before it to so far after it at most, and never over more than half of either way. The key's time is at the middle.",
      "0 m",
    ),
    switch: optional(
      fields({
        begin: optional(
          quantity("share", { from: 0, to: 1 }),
          "Share of the way, from the last key that says the old target, where the change begins. Until then the old one holds.",
          "0 %",
        ),
        end: optional(
          quantity("share", { from: 0, to: 1 }),
          "Share of the way where it ends. From then on the new target holds.",
          "100 %",
        ),
        ease: optional(ease(), "How the sight goes over.", "minimum-jerk"),
      }),
      "Shapes the change of aim or focus to another target on the way to this key.",
      "with least jerk all the way",
    ),
    speed: optional(
      quantity("share", { above: 0, to: 100 }),
      "Share of written speed at this key, times the move's own. Between two keys that say it, it changes smoothly.",
      "that of the keys that say it; 100 % where none does",
    ),
    allow: allowField(),
    note: noteField(),
  });
