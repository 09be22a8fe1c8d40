// Sound documents of each kind, as values: what the random ones start from.

const limits = { speed: 20, accel: 40, jerk: 200 };

export const CAMERA = {
  camera: 1,
  body: { sensor: ["36 mm", "20.25 mm"], resolution: [6144, 3456], flange: "44 mm", mass: 2, coc: "0.03 mm" },
  attachments: [{ name: "box", box: [0.05, 0.16, 0.12], at: [0.12, 0, 0], mass: 0.4 }],
  shutter: 180,
  lenses: {
    wide: {
      focal: "24 mm",
      pupil: "50 mm",
      "close-focus": "0.3 m",
      iris: 2.8,
      front: { length: "110 mm", diameter: "80 mm" },
      mass: 0.7,
      motors: {
        focus: {
          scale: [
            ["infinity", 0],
            ["2 m", 40],
            ["0.3 m", 280],
          ],
          limits: { speed: 180, accel: 1500, jerk: 20000 },
        },
        iris: {
          scale: [
            [2.8, 0],
            [22, 72],
          ],
          limits: { speed: 90 },
        },
      },
    },
    zoom: {
      focal: ["24 mm", "70 mm"],
      squeeze: 1.33,
      centre: [0.01, 0],
      distortion: { k: [-0.05, 0.01], p: [0.001, 0] },
      pupil: [
        { focal: "24 mm", focus: "infinity", at: "60 mm" },
        { focal: "24 mm", focus: "0.5 m", at: "66 mm" },
        { focal: "70 mm", at: "95 mm" },
      ],
    },
  },
};

export const SET = {
  set: 1,
  targets: {
    lid: { at: [2.1, 0, 1.02] },
    spout: { at: [0.11, 0, 0.1], on: "plate" },
    stream: {
      follow: [
        { at: 0, to: [2.2, 0.2, 1.1] },
        { at: "2 s", to: [2.1, 0.2, 0.9] },
      ],
    },
  },
  turntables: { plate: { at: [2.1, 0, 0.9], range: [-360, 360], limits, repeat: { sigma: 0.005 }, repeats: 4 } },
  obstacles: {
    plinth: { box: [0.4, 0.4, 0.85], at: [2.1, 0, 0.45] },
    pot: { capsule: { radius: 0.05, height: 0.2 }, at: [0.05, 0, 0.1], turn: [30, 0, 0], on: "plate" },
    cup: { cylinder: { radius: 0.04, height: 0.08 }, at: [1.5, 0.6, 0.9] },
  },
  people: { potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0.4, 1.2, 0.875] } },
  marks: { a: { at: [0, 0, 0] } },
  floor: 0,
};

const head = [
  { axis: "pan", type: "rotary", along: [0, 0, 1], origin: { at: [0, 0, 0.05] }, range: [-170, 170], limits },
  { axis: "tilt", type: "rotary", along: [0, -1, 0], origin: { at: [0, 0, 0.12] }, range: [-90, 90], limits },
];

export const RIGS: readonly object[] = [
  {
    rig: 1,
    chain: [
      {
        axis: "slide",
        type: "linear",
        along: [0, 1, 0],
        origin: { at: [0, 0, 1] },
        range: [-1, 1],
        limits: { speed: 0.5 },
        repeat: { sigma: "0.1 mm", slip: "0.1 mm/m", backlash: "0.1 mm" },
      },
      ...head,
    ],
    head: { pan: "pan", tilt: "tilt" },
    "camera-mount": { at: [0.03, 0, 0.06] },
    bodies: [
      { name: "rail", on: "base", box: [0.1, 2.2, 0.05], at: [0, 0, 0.9] },
      { name: "box", on: "slide", sphere: { radius: 0.05 }, at: [0, 0, 0.02] },
      { name: "yoke", on: "pan", capsule: { radius: 0.02, height: 0.2 }, at: [0, 0.1, 0.05] },
    ],
    touching: [["rail", "box"]],
    masses: [
      { name: "rail", on: "base", at: [0, 0, 0.9], mass: 8 },
      { on: "slide", mass: 2 },
    ],
    support: [[-0.3, 1], [0.3, 1], [0.3, -1], [-0.3, -1]], // prettier-ignore
    payload: { limit: 4 },
    power: { battery: "98 Wh", idle: "8 W", axes: { slide: "10 W", pan: "4 W" } },
  },
  {
    rig: 1,
    chain: [
      { axis: "slide", type: "linear", along: [1, 0, 0], range: [0, 3], limits: { speed: 0.5, accel: 0.4, jerk: 2 } },
      { axis: "swing", type: "rotary", along: [0, 0, 1], origin: { at: [0, 0, 1] }, range: [-170, 170] },
      { axis: "lift", type: "rotary", along: [0, -1, 0], range: [-40, 70] },
      { axis: "boom", type: "linear", along: [1, 0, 0], drive: "setup", positions: [0.5, 0.9] },
      { axis: "level", type: "rotary", along: [0, -1, 0], follows: { axis: "lift", ratio: -1 } },
      ...head,
      { axis: "roll", type: "rotary", along: [1, 0, 0], range: [-180, 180] },
    ],
    head: { pan: "pan", tilt: "tilt", roll: "roll" },
    "camera-mount": { at: [0.04, 0, 0.11] },
    bodies: [
      { name: "carriage", on: "slide", box: [0.5, 0.5, 0.1] },
      { name: "arm", on: "lift", box: [1.2, 0.07, 0.09] },
      { name: "box", on: "lift", box: [0.2, 0.2, 0.2], at: [-0.6, 0, 0] },
    ],
    masses: [
      { on: "slide", at: [0, 0, 0], mass: 60 },
      { on: "lift", at: [0.1, 0, 0], mass: 7 },
    ],
    counterweight: { on: "lift", at: [-0.6, 0, 0], mass: 9, tolerance: "15 %" },
    support: { on: "slide", corners: [[-0.4, 0.4], [0.4, 0.4], [0.4, -0.4], [-0.4, -0.4]], margin: 0.2 }, // prettier-ignore
    payload: { limit: 6 },
    power: { battery: "150 Wh", usable: "80 %", idle: "9 W", axes: { slide: "14 W", swing: "8 W", plate: "2 W" } },
  },
  {
    rig: 1,
    chain: ["slide", "lift", "pan", "tilt", "roll", "swing"].map((axis, i) => ({
      axis,
      type: "rotary",
      along: i % 2 === 0 ? [0, 0, 1] : [0, -1, 0],
      origin: { at: [0.2, 0, 0.3] },
      range: [-170, 170],
      repeat: { sigma: 0.01 },
    })),
    bodies: ["slide", "lift", "tilt"].map((on) => ({ name: `of ${on}`, on, box: [0.3, 0.06, 0.06], at: [0.15, 0, 0] })),
    masses: [
      { on: "base", mass: 100 },
      { on: "lift", at: [0.1, 0, 0.1], mass: 3 },
    ],
    support: [[-0.5, 0.5], [0.5, 0.5], [0, -0.5]], // prettier-ignore
    "camera-mount": { at: [0.05, 0, 0] },
  },
];

export const MOVES: readonly object[] = [
  {
    move: 1,
    rig: "a.rig.json",
    camera: { use: "a.camera.json", lens: "zoom" },
    set: "a.set.json",
    rate: 25,
    place: { at: [0, 0], heading: 0, lean: [0, 0] },
    setup: { boom: 0.9 },
    keys: [
      { at: 0, name: "first", axes: { slide: 0.2, swing: 0, lift: 5, plate: 0 }, aim: { at: "lid" }, focus: "lid" },
      { at: "2 s", aim: { at: "spout", framing: [0.4, 0.55] }, focus: "stream", zoom: "40 mm" },
      { after: "1.5 s", name: "last", axes: { slide: 0.6, swing: 10, lift: 10, plate: 40 }, roll: "2 deg" },
    ],
    deliver: [3840, 2160],
    stabilise: "5 %",
    return: { time: "4 s", via: [{ at: "50 %", axes: { lift: 8 } }] },
    passes: [
      { name: "one", times: 3 },
      { name: "two", targets: { lid: { shift: [0, 0.1, 0] } } },
    ],
    tolerance: { match: "1.5 px", blur: "8 px", crossing: "4 s", people: { stop: "0.3 s" } },
    expect: [
      { of: "pan.speed", below: "9 deg/s" },
      { of: "clearance", above: "60 mm", from: "1 s" },
      { of: "lid.framing.across", between: [0.3, 0.6], at: "1 s" },
    ],
  },
  {
    move: 1,
    rig: "a.rig.json",
    camera: { use: "a.camera.json", lens: "wide" },
    set: "a.set.json",
    rate: 24,
    setup: { boom: 0.5 },
    keys: [
      { at: 0, camera: { at: [0.5, 0.1, 1.3] }, aim: { at: "lid" }, focus: "1 m" },
      { at: "1 s", camera: { from: "lid", offset: [-1.2, 0.3, 0.2] }, path: "line" },
      { at: "2 s", camera: { from: "spout", offset: [-1.1, 0.2, 0.1], in: "plate" }, axes: { plate: 20 }, stop: true },
      { at: "3 s", aim: "none", axes: { pan: 3, tilt: 2 } },
    ],
  },
  {
    move: 1,
    rig: "a.rig.json",
    camera: { use: "a.camera.json", lens: "wide" },
    set: "a.set.json",
    rate: "29.97df",
    speed: "50 %",
    setup: { boom: 0.5 },
    keys: [
      { at: 0, axes: { slide: 0, swing: 0, lift: 0, pan: 0, tilt: 0, roll: 0 }, hold: "0.5 s", iris: 2.8 },
      { at: "2 s", axes: { slide: 0.5, pan: 10 }, ease: "minimum-jerk", speed: "80 %" },
      { at: "4 s", axes: { slide: 0.7, swing: 5, tilt: 5 }, aim: { at: "stream" }, switch: { begin: 0.2, end: 0.8 } },
    ],
    near: { pan: 10 },
    deliver: { size: [1920, 1080], crop: [5760, 3240] },
    return: { speed: "80 %" },
    passes: [{ name: "one", times: 20 }],
    tolerance: { people: 0.5, clearance: "20 mm", "self-clearance": "5 mm" },
  },
];
