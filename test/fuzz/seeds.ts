import type { DocumentKind } from "../../core/model/document-kind.ts";
import { KIT } from "../fixtures/kit.ts";

/** One right document of each kind that uses every field, to be mutated. Invented. */
export const SEEDS: Readonly<Record<DocumentKind, string>> = {
  rig: `rig: 1
name: Dolly with everything
chain:
  - axis: dolly
    type: linear
    along: [1, 0, 0]
    origin: { at: [0, 0, 0.22], turn: [0, 0, 0] }
    range: [0, 3]
    limits: { speed: 0.5, accel: 0.4, jerk: 2 }
    repeat: { sigma: 0.3 mm, slip: 1.5 mm/m, backlash: 0 }
  - { axis: column, type: linear, range: [0.7, 1.6], drive: setup }
  - { axis: boom, type: linear, along: [1, 0, 0], drive: setup, positions: [0.9, 1.2, 1.5] }
  - { axis: lift, type: rotary, along: [0, -1, 0], range: [-30 deg, 60 deg], limits: { speed: 30 } }
  - { axis: level, type: rotary, along: [0, -1, 0], follows: { axis: lift, ratio: -1, offset: 0 } }
  - { axis: plate, type: fixed, origin: { at: [0, 0, 10 mm] } }
  - { axis: pan, type: rotary, range: [-180, 180] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-100, 45] }
  - { axis: roll, type: rotary, along: [1, 0, 0] }
head: { pan: pan, tilt: tilt, roll: roll }
camera-mount: { at: [0.04, 0, 0.11], turn: [0, 0, 0] }
bodies:
  - { name: deck, on: dolly, box: [1, 0.6, 0.2], at: [0, 0, 0.1] }
  - { on: base, cylinder: { radius: 0.2, height: 0.5 } }
  - { on: lift, capsule: { radius: 0.1, height: 1.5 }, turn: [0, 90, 0] }
  - { on: pan, sphere: { radius: 5 cm } }
masses: [{ name: arm, on: lift, at: [0.5, 0, 0], mass: 4 kg }]
counterweight: { on: lift, at: [-0.6, 0, 0], mass: 9 kg }
support: [[-0.4, 0.35], [0.4, 0.35], [0, -0.35]]
payload: { limit: 6 kg }
power: { battery: 150 Wh, usable: 80 %, idle: 9 W, axes: { dolly: 14 W, lift: 20 W } }
note: invented
`,
  camera: `camera: 1
name: Test body
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg, coc: 0.03 mm }
lenses:
  prime: { focal: 35 mm, iris: 2.8, close-focus: 0.28 m, pupil: 52 mm, front: { length: 110 mm, diameter: 82 mm }, mass: 0.7 kg }
  zoom:
    focal: [24 mm, 70 mm]
    pupil: [[24 mm, 60 mm], [70 mm, 95 mm]]
    squeeze: 1
    distortion: { k: [-0.02, 0.01, 0], p: [0.001, 0] }
    centre: [0.001, 0]
    motors: { focus: { limits: { speed: 90 }, scale: [[0.38 m, 0 deg], [3 m, 200 deg]] } }
attachments: [{ name: matte-box, box: [0.1, 0.2, 0.2], at: [0.15, 0, 0], mass: 0.4 kg }]
shutter: 180 deg
`,
  set: `set: 1
name: Bench
targets:
  lid: { at: [2.10, 0.00, 1.02] }
  spout: { at: [0.11, 0.00, 0.06], on: plate }
  stream: { follow: [{ at: 0 s, to: [1, 2, 3] }, { at: 60 f, to: [1, 2, 4] }] }
  knob:
    at: [2, 0, 1]
    sights:
      - rig: slider.rig.yaml
        camera: { use: a.camera.yaml, lens: wide }
        place: { at: [0, 0], heading: 10 }
        axes: { slide: 0.1, pan: 3, tilt: -2 }
        framing: [0.5, 0.5]
turntables:
  plate: { at: [2.1, 0, 0.9], along: [0, 0, 1], range: [-360, 360], limits: { speed: 40, accel: 60, jerk: 300 } }
obstacles: { plinth: { box: [0.4, 0.4, 0.9], at: [2.1, 0, 0.45] } }
people: { model: { cylinder: { radius: 0.5, height: 1.9 }, at: [3, 0, 0.95] } }
floor: 0
marks: { a: { at: [0, 0, 0] } }
`,
  move: `move: 1
title: Lid to spout
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
start: "01:00:00:00"
deliver: { size: [1920, 1080], crop: [3840, 2160] }
stabilise: 5 %
place: { at: [0.2, -0.8], heading: 12, lean: [0, 0] }
near: { pan: 20 }
speed: 50 %
keys:
  - at: "01:00:00:00"
    name: top
    axes: { slide: 0.40, plate: 0 }
    aim: { at: lid, framing: [0.50, 0.44] }
    focus: lid
    iris: 4
  - at: 3.2 s
    camera: { from: spout, offset: [-1.9, 0.10, 0.05], in: plate }
    aim: { at: spout, framing: { delivered: [0.36, 0.55] } }
  - after: 60 f
    axes: { slide: 0.2, plate: 20 }
    focus: 2 m
    stop: true
    aim: none
  - at: 8 s
    axes: { pan: 3, tilt: -1 }
passes:
  - { name: celadon, times: 2 }
  - { name: tenmoku, targets: { lid: { shift: [0, 0, 12 mm] } }, note: taller knob }
tolerance: { match: 1.5 px, aim: 4 px, clearance: 60 mm, near-limit: 90 % }
allow: [{ code: near-limit, reason: rehearsed }]
`,
  shoot: `shoot: 1
name: Day one
shots:
  - { move: seed.move.yaml, passes: [celadon], product: teapot, setup-time: 20 min, pass-time: 4 min, change-battery: true }
  - { move: seed.move.yaml, wardrobe: apron, props: cloth }
match:
  - { from: "seed.move.yaml#top", to: "seed.move.yaml#top", about: lid, tolerance: 3 px, size: 0.2 m }
`,
  config: `config: 1
severity:
  axis-speed: warning
  near-limit: off
  soft-subject: hint
note: for the workshop
`,
};

/** All that the seeds refer to. */
export const SURROUNDINGS: Readonly<Record<string, string>> = { ...KIT, "seed.move.yaml": SEEDS.move };
