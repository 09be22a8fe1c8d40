import type { DocumentKind } from "../../../core/model/document-kind.ts";
import { relativeReference } from "../../../core/base/path.ts";
import { documentKind } from "../../../core/model/document-kind.ts";
import type { NameKind } from "../../../core/schema/facts.ts";
import { cameraKey, newKey } from "./key-snippet.ts";
import type { Asked } from "./proposal.ts";
import type { Part, Shown } from "./written-snippet.ts";

/** A snippet: in which document and list or map it stands, and what it writes there. */
export interface Snippet {
  readonly label: string;
  readonly doc: string;
  readonly kind: DocumentKind;
  /** Path of the list or map that it is an item of. */
  readonly at: string;
  /** `undefined` where it can't be written yet. */
  readonly show: (asked: Asked) => Shown | undefined;
}

const hole = (value: string | number): Part => ({ hole: value });

export const SNIPPETS: readonly Snippet[] = [
  {
    label: "new key",
    doc: "A key after the one before: its axes, to be changed.",
    kind: "move",
    at: "keys",
    show: newKey,
  },
  {
    label: "new camera key",
    doc: "A key that says where the entrance pupil is: the axes are solved for it.",
    kind: "move",
    at: "keys",
    show: cameraKey,
  },
  {
    label: "new pass",
    doc: "The same move once more, for another variant of the subject.",
    kind: "move",
    at: "passes",
    show: (asked) => ({ fields: { name: hole(freshName(asked, "pass", "second")), times: hole(1) } }),
  },
  {
    label: "new expectation",
    doc: "A test of the move's own: what must hold of it.",
    kind: "move",
    at: "expect",
    show: expectation,
  },
  {
    label: "new target",
    doc: "A point to aim and focus at, in metres in the set.",
    kind: "set",
    at: "targets",
    show: (asked) => ({
      name: freshName(asked, "target", "spot"),
      fields: { at: [hole(0), hole(0), hole(1)] },
    }),
  },
  {
    label: "new obstacle",
    doc: "What stands in the set: a box by its full sizes, `at` its centre.",
    kind: "set",
    at: "obstacles",
    show: (asked) => ({
      name: freshName(asked, "body", "table"),
      fields: { at: [hole(0), hole(0), hole(0.4)], box: [hole(1), hole(0.6), hole(0.8)] },
    }),
  },
  {
    label: "new person",
    doc: "Where somebody is: an upright cylinder by its full height, `at` its centre.",
    kind: "set",
    at: "people",
    show: (asked) => ({
      name: freshName(asked, "body", "focus-puller"),
      fields: { at: [hole(0), hole(-1.5), hole(0.9)], cylinder: { radius: hole(0.3), height: hole(1.8) } },
    }),
  },
  {
    label: "new linear axis",
    doc: "A link that slides; lengths in metres. Range and limits are placeholders: take them from the rig's manual.",
    kind: "rig",
    at: "chain",
    show: (asked) => axis(asked, "slide", "linear", [1, 0, 0], [0, 1], { speed: 0.3, accel: 0.2, jerk: 1 }),
  },
  {
    label: "new rotary axis",
    doc: "A link that turns; angles in degrees. Range and limits are placeholders: take them from the rig's manual.",
    kind: "rig",
    at: "chain",
    show: (asked) => axis(asked, "pan", "rotary", [0, 0, 1], [-180, 180], { speed: 30, accel: 50, jerk: 250 }),
  },
  {
    label: "new shot",
    doc: "A move of the day's list.",
    kind: "shoot",
    at: "shots",
    show: shot,
  },
];

function axis(
  asked: Asked,
  name: string,
  type: "linear" | "rotary",
  along: readonly number[],
  range: readonly number[],
  limits: Readonly<Record<string, number>>,
): Shown {
  const holes = Object.fromEntries(Object.entries(limits).map(([key, value]) => [key, hole(value)]));
  return {
    fields: {
      axis: hole(freshName(asked, "axis", name)),
      type,
      along: along.map(hole),
      range: range.map(hole),
      limits: holes,
    },
  };
}

/** The largest share of its limits that an axis uses; without an axis, the distance to what stands in the set. */
function expectation({ around }: Asked): Shown {
  const [first] = around.names("axis");
  return first
    ? { fields: { of: hole(`${first.name}.share`), below: hole("90 %") } }
    : { fields: { of: hole("clearance"), above: hole("100 mm") } };
}

function shot({ view, around }: Asked): Shown {
  const move = around.files.find((file) => documentKind(file)?.kind === "move");
  const named = move === undefined ? "name.move.yaml" : relativeReference(view.file, move);
  return { fields: { move: hole(named), "setup-time": hole("20 min") } };
}

/** A name that is not taken: `spot`, `spot-2`, `spot-3`. */
function freshName({ around, cursor }: Asked, kind: NameKind, wish: string): string {
  const taken = new Set([...around.names(kind).map(({ name }) => name), ...cursor.siblings]);
  for (let count = 2, name = wish; ; count += 1) {
    if (!taken.has(name)) return name;
    name = `${wish}-${count}`;
  }
}
