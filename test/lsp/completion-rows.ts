/** Cursor places for the table of completion: `|` is the cursor, put in the place of `old`. */
export interface PlaceRow {
  readonly name: string;
  readonly doc: "block" | "flow" | "json" | "set" | "rig" | "shoot" | "set-json";
  readonly old: string;
  readonly put: string;
  /** Labels; the first is taken. */
  readonly offers: readonly string[];
  readonly not?: readonly string[];
  /** A part of the detail of the first. */
  readonly detail?: RegExp;
  /** What stands in the place of `put` afterwards, holes filled with what stands in them at first. */
  readonly becomes?: string;
  /** True where the first must also be the first of the list. */
  readonly first?: true;
  /** The label that comes last. */
  readonly last?: string;
}

/** Text of a set, a rig and a shoot beside the move, to be completed in. */
export const FLOW_MOVE = `{
  move: 1, title: Along the table, rig: ../kit/slider.rig.yaml,
  camera: { use: ../kit/a.camera.yaml, lens: prime-35 },
  set: table.set.yaml, rate: 25,
  keys: [
    { at: 0 s, name: left, axes: { slide: 0.3, plate: 0 }, aim: { at: lid }, focus: lid },
    { at: 4 s, name: right, axes: { slide: -0.3, plate: 30 } }, # ends here
  ],
}
`;

export const SHOOT = `shoot: 1
shots:
  - move: along.move.yaml
    setup-time: 5 min
`;

export const SET_JSON = `{
  "set": 1,
  "targets": {
    "lid": { "at": [2, 0, 1] }
  }
}
`;

const key = "  - at: 4 s\n    name: right\n    axes: { slide: -0.3, plate: 30 }\n";

export const VALUES: readonly PlaceRow[] = [
  {
    name: "an axis's value where it is solved, with its neighbours' and the ends of its range",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ slide: |, plate: 30 }",
    offers: ["-0.3", "0.3", "-0.6", "0.6"],
    detail: /-0\.3 m: where it is at right, as last solved/,
    becomes: "{ slide: -0.3, plate: 30 }",
    first: true,
  },
  {
    name: "an axis's value right behind the colon",
    doc: "block",
    old: "{ slide: -0.3,",
    put: "{ slide:|,",
    offers: ["-0.3"],
    becomes: "{ slide: -0.3,",
  },
  {
    name: "an axis's value half written",
    doc: "block",
    old: "slide: -0.3",
    put: "slide: -0.|",
    offers: ["-0.3"],
    becomes: "slide: -0.3",
  },
  {
    name: "an axis's value in an open brace",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ slide: |",
    offers: ["-0.3"],
    becomes: "{ slide: -0.3",
  },
  {
    name: "an axis's value on a line of its own",
    doc: "block",
    old: "axes: { slide: -0.3, plate: 30 }",
    put: "axes:\n      slide: |",
    offers: ["-0.3"],
    becomes: "axes:\n      slide: -0.3",
  },
  {
    name: "an axis's value in flow",
    doc: "flow",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ slide: |, plate: 30 }",
    offers: ["-0.3", "0.3", "-0.6"],
    becomes: "{ slide: -0.3, plate: 30 }",
  },
  {
    name: "an axis's value",
    doc: "json",
    old: '"slide": -0.3',
    put: '"slide": |',
    offers: ["-0.3", "0.3", "-0.6"],
    becomes: '"slide": -0.3',
  },
  // atan2(0.3, 2) = 8.531 deg to the left: the pan axis stands at y = -0.3, the target at y = 0, 2 m ahead.
  {
    name: "a solved axis's value",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ pan: |, slide: -0.3, plate: 30 }",
    offers: ["8.531", "-8.531", "-170", "170"],
    detail: /8\.53 deg: where it is at right/,
    first: true,
  },
  {
    name: "an axis's value in a key between two",
    doc: "block",
    old: key,
    put: `  - at: 2 s\n    axes: { slide: |\n${key}`,
    offers: ["0", "0.3", "-0.3"],
    detail: /where it is at 2 s/,
    first: true,
  },
  {
    name: "an axis's value in a key without a time",
    doc: "block",
    old: "  - after: 2 s\n    name: rest\n",
    put: "  - name: rest\n    roll: level\n    axes: { slide: |\n",
    offers: ["-0.3"],
  },
];

export const NAMES: readonly PlaceRow[] = [
  {
    name: "axes with range and present value",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ | }",
    offers: ["slide", "plate", "pan"],
    detail: /linear, -0\.6 m to 0\.6 m, -0\.3 m at right/,
    becomes: "{ slide:  }",
  },
  {
    name: "axes behind a trailing comma",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ slide: -0.3, | }",
    offers: ["plate"],
    not: ["slide"],
    becomes: "{ slide: -0.3, plate:  }",
  },
  {
    name: "axes behind a comma without a space",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ slide: -0.3,| }",
    offers: ["plate"],
    not: ["slide"],
  },
  {
    name: "axes half written in an open brace",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ slide: -0.3, pl|",
    offers: ["plate"],
    becomes: "{ slide: -0.3, plate: ",
  },
  {
    name: "axes on a line of their own",
    doc: "block",
    old: "axes: { slide: -0.3, plate: 30 }",
    put: "axes:\n      |",
    offers: ["slide", "plate"],
    becomes: "axes:\n      slide: ",
  },
  {
    name: "axes in flow over lines",
    doc: "flow",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{\n      slide: -0.3,\n      | }",
    offers: ["plate"],
    not: ["slide"],
  },
  {
    name: "axes in quotes",
    doc: "json",
    old: '"slide": -0.3, "plate": 30',
    put: '"slide": -0.3, "|"',
    offers: ["plate"],
    not: ["slide"],
    becomes: '"slide": -0.3, "plate": 0',
  },
  {
    name: "axes in an open quote",
    doc: "json",
    old: '{ "slide": -0.3, "plate": 30 } }',
    put: '{ "slide": -0.3, "pl| } }',
    offers: ["plate"],
  },
  {
    name: "axes before another",
    doc: "json",
    old: '{ "slide": -0.3, "plate": 30 }',
    put: '{ | "plate": 30 }',
    offers: ["slide"],
    not: ["plate"],
    becomes: '{ "slide": 0, "plate": 30 }',
  },
  {
    name: "axes behind a missing comma",
    doc: "json",
    old: '"slide": -0.3, "plate": 30',
    put: '"slide": -0.3 |',
    offers: ["plate"],
    becomes: '"slide": -0.3, "plate": 0',
  },
  {
    name: "the head's axes last while it aims",
    doc: "block",
    old: "{ slide: -0.3, plate: 30 }",
    put: "{ | }",
    offers: ["plate", "pan"],
    last: "tilt",
  },
  // sqrt(2^2 + 0.3^2) = 2.0224 m from the pan axis, whose pupil is 0.05 + 0.052 m in front: 1.9204 m.
  {
    name: "targets with their distance",
    doc: "block",
    old: "focus: lid",
    put: "roll: level\n  - at: 4 s\n    focus: |",
    offers: ["lid"],
    detail: /from the pupil/,
  },
  {
    name: "targets with their distance at a key that aims",
    doc: "block",
    old: key,
    put: `${key}    aim: |\n`,
    offers: ["lid", "spout", "none"],
    detail: /1\.9204 m from the pupil at right.*in the picture at 0\.5, 0\.5/,
    becomes: `${key}    aim: lid\n`,
  },
  {
    name: "targets half written",
    doc: "block",
    old: "focus: lid",
    put: "focus: sp|",
    offers: ["spout"],
    becomes: "focus: spout",
  },
  {
    name: "targets in single quotes",
    doc: "block",
    old: "at: lid,",
    put: "at: '|',",
    offers: ["lid"],
    becomes: "at: 'lid',",
  },
  {
    name: "targets in an open single quote",
    doc: "block",
    old: "focus: lid",
    put: "focus: '|",
    offers: ["lid"],
    becomes: "focus: 'lid'",
  },
  {
    name: "targets in flow",
    doc: "flow",
    old: "focus: lid",
    put: "focus: |",
    offers: ["lid", "spout"],
    becomes: "focus: lid",
  },
  {
    name: "targets in quotes",
    doc: "json",
    old: '"focus": "lid"',
    put: '"focus": "|"',
    offers: ["lid", "spout"],
    detail: /m from the pupil at left/,
    becomes: '"focus": "lid"',
  },
  {
    name: "targets before a comment",
    doc: "block",
    old: "focus: lid",
    put: "focus: | # what is sharp",
    offers: ["lid"],
    becomes: "focus: lid # what is sharp",
  },
  // 2 atan(18 / 35) = 54.43 deg and 2 atan(10.125 / 35) = 32.27 deg.
  {
    name: "lenses with their field of view",
    doc: "block",
    old: "lens: prime-35",
    put: "lens: |",
    offers: ["prime-35"],
    detail: /35 mm, 54\.43 deg across, 32\.27 deg down, focuses from 0\.28 m/,
    becomes: "lens: prime-35",
  },
  {
    name: "lenses in flow",
    doc: "flow",
    old: "lens: prime-35",
    put: "lens: pr|",
    offers: ["prime-35"],
    detail: /54\.43 deg across/,
    becomes: "lens: prime-35",
  },
  { name: "lenses in an open quote", doc: "json", old: '"prime-35" }', put: '"pr| }', offers: ["prime-35"] },
  {
    name: "quantities to expect",
    doc: "block",
    old: "keys:\n",
    put: "expect: [{ of: pan.| }]\nkeys:\n",
    offers: ["pan.speed", "lid.distance", "duration"],
    becomes: "expect: [{ of: pan.speed }]\nkeys:\n",
  },
  {
    name: "codes to allow",
    doc: "json",
    old: '"focus": "lid"',
    put: '"allow": [ { "code": "|" } ]',
    offers: ["axis-speed"],
    not: ["syntax"],
    becomes: '"allow": [ { "code": "axis-speed" } ]',
  },
];
