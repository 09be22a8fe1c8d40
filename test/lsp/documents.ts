/** A small job of its own: a slider with pan and tilt in front of a table. Invented figures. */

export const RIG = `rig: 1
name: Slider
chain:
  - axis: slide
    type: linear
    along: [0, 1, 0]
    origin: { at: [0, 0, 0.9] }
    range: [-0.6, 0.6]
    limits: { speed: 0.4, accel: 4, jerk: 60 }
  - axis: pan
    type: rotary
    along: [0, 0, 1]
    range: [-170, 170]
    limits: { speed: 60, accel: 120, jerk: 900 }
  - axis: tilt
    type: rotary
    along: [0, -1, 0]
    range: [-90, 60]
    limits: { speed: 60, accel: 120, jerk: 900 }
head: { pan: pan, tilt: tilt }
camera-mount: { at: [0.05, 0, 0.1] }
`;

export const CAMERA = `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg, coc: 0.03 mm }
lenses:
  prime-35: { focal: 35 mm, iris: 2.8, close-focus: 0.28 m, pupil: 52 mm }
`;

export const SET = `set: 1
targets:
  lid: { at: [2, 0, 1] }
  spout: { at: [0.2, 0, 0], on: plate }
turntables:
  plate: { at: [2, 0.3, 0.9], range: [-360, 360], limits: { speed: 40, accel: 60, jerk: 300 } }
`;

/** Passes: the slide needs 15/8 · 0.6 m / 4 s = 0.28 m/s of 0.4 m/s. */
export const MOVE = `move: 1
title: Along the table
rig: ../kit/slider.rig.yaml
camera: { use: ../kit/a.camera.yaml, lens: prime-35 }
set: table.set.yaml
rate: 25
keys:
  - at: 0 s
    name: left
    axes: { slide: 0.3, plate: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
    focus: lid
  - at: 4 s
    name: right
    axes: { slide: -0.3, plate: 30 }
  - after: 2 s
    name: rest
    axes: { slide: -0.3, plate: 30 }
`;

export const MOVE_JSON = `{
  "move": 1,
  "title": "Along the table",
  "rig": "../kit/slider.rig.yaml",
  "camera": { "use": "../kit/a.camera.yaml", "lens": "prime-35" },
  "set": "table.set.yaml",
  "rate": 25,
  "keys": [
    { "at": "0 s", "name": "left", "axes": { "slide": 0.3, "plate": 0 }, "aim": { "at": "lid", "framing": [0.5, 0.5] }, "focus": "lid" },
    { "at": "4 s", "name": "right", "axes": { "slide": -0.3, "plate": 30 } }
  ]
}
`;

/** The documents by their path in the workspace. */
export const WORKSPACE: Readonly<Record<string, string>> = {
  "kit/slider.rig.yaml": RIG,
  "kit/a.camera.yaml": CAMERA,
  "moves/table.set.yaml": SET,
  "moves/along.move.yaml": MOVE,
};
