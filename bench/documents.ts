/** Texts of the benchmark's documents: an invented seven-axis rig, a camera, a set, and moves of any length. */
export const RIG_FILE = "/bench/seven.rig.yaml";
export const CAMERA_FILE = "/bench/a.camera.yaml";
export const SET_FILE = "/bench/a.set.yaml";

/** Chain PRRPRRR; its lengths are those of the rig that the reference figures of the C++ solvers were measured with. */
export const RIG = `rig: 1
name: Seven axes
chain:
  - { axis: track, type: linear, along: [1, 0, 0], range: [0, 6], limits: { speed: 1.5, accel: 3, jerk: 40 } }
  - { axis: swing, type: rotary, along: [0, 0, 1], origin: { at: [0, 0, 1.2] }, range: [-170, 170], limits: { speed: 90, accel: 200, jerk: 3000 } }
  - { axis: lift, type: rotary, along: [0, 1, 0], origin: { at: [0, 0, 0.1] }, range: [-50, 40], limits: { speed: 60, accel: 150, jerk: 3000 } }
  - { axis: boom, type: linear, along: [1, 0, 0], origin: { at: [1.5, 0, 0] }, range: [0, 1.5], limits: { speed: 0.8, accel: 2, jerk: 40 } }
  - { axis: pan, type: rotary, along: [0, 0, 1], origin: { at: [0.2, 0, -0.25] }, range: [-180, 180], limits: { speed: 120, accel: 300, jerk: 5000 } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, -0.1] }, range: [-100, 100], limits: { speed: 120, accel: 300, jerk: 5000 } }
  - { axis: roll, type: rotary, along: [1, 0, 0], origin: { at: [0.05, 0, 0] }, range: [-90, 90], limits: { speed: 120, accel: 300, jerk: 5000 } }
head: { pan: pan, tilt: tilt, roll: roll }
camera-mount: { at: [0.12, 0, 0.03] }
`;

export const CAMERA = `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg, coc: 0.03 mm }
lenses:
  prime-35: { focal: 35 mm, iris: 2.8, close-focus: 0.28 m, pupil: 52 mm, mass: 0.7 kg }
`;

export const SET = `set: 1
targets:
  lid: { at: [7.5, 0.4, 1.0] }
  spout: { at: [7.2, -0.3, 1.1] }
`;

/** About as many bodies of the rig, and as long ones, as a crane has. */
export const BODIES = `bodies:
  - { name: rail-left, on: base, box: [4.6, 0.1, 0.1], at: [2.1, 0.3, 0.05] }
  - { name: rail-right, on: base, box: [4.6, 0.1, 0.1], at: [2.1, -0.3, 0.05] }
  - { name: carriage, on: track, box: [0.8, 0.6, 0.1], at: [0, 0, 0.2] }
  - { name: batteries, on: track, box: [0.3, 0.4, 0.2], at: [-0.2, 0, 0.35] }
  - { name: column, on: track, cylinder: { radius: 0.08, height: 0.8 }, at: [0, 0, 0.65] }
  - { name: turret, on: swing, cylinder: { radius: 0.1, height: 0.06 }, at: [0, 0, -0.1] }
  - { name: arm, on: lift, box: [2.2, 0.1, 0.1], at: [0.4, 0, 0] }
  - { name: weights, on: lift, box: [0.2, 0.25, 0.25], at: [-0.7, 0, 0] }
  - { name: tube, on: boom, box: [1.5, 0.06, 0.08], at: [-0.75, 0, 0] }
  - { name: bracket, on: boom, box: [0.2, 0.08, 0.08], at: [0.1, 0, -0.05] }
  - { name: pan-drive, on: pan, cylinder: { radius: 0.05, height: 0.04 } }
  - { name: tilt-drive, on: tilt, cylinder: { radius: 0.035, height: 0.04 }, at: [0, 0.09, 0], turn: [90, 0, 0] }
  - { name: cradle, on: roll, box: [0.12, 0.1, 0.02], at: [0, 0, -0.06] }
  - { name: camera-body, on: roll, box: [0.14, 0.1, 0.1], at: [0.02, 0, 0] }
`;

/** A move of `count` keys, one a second, that aims at a target and keys every other axis. `seed` varies its values. */
export function moveText(count: number, seed = 0): string {
  const keys = Array.from({ length: count }, (_, idx) => moveKey(idx, seed));
  return moveOf(count, keys);
}

/** A move of the benchmark with these keys, each a list item of the document's own indent. */
export function moveOf(count: number, keys: readonly string[]): string {
  return `move: 1
title: Bench ${count}
rig: seven.rig.yaml
camera: { use: a.camera.yaml, lens: prime-35 }
set: a.set.yaml
rate: 25
keys:
${keys.join("")}`;
}

/** Eight lines, as hand-written keys have them. */
export function moveKey(idx: number, seed: number): string {
  const wave = (period: number, low: number, high: number): string => {
    const phase = Math.sin((idx + seed * 0.37) * ((2 * Math.PI) / period));
    return (low + ((high - low) * (1 + phase)) / 2).toFixed(3);
  };
  return `  - at: ${idx} s
    name: k${idx}
    axes:
      track: ${wave(40, 0.5, 4)}
      swing: ${wave(31, -15, 15)}
      lift: ${wave(23, -15, 10)}
      boom: ${wave(29, 0.2, 0.9)}
    aim: { at: ${Math.floor(idx / 10) % 2 === 0 ? "lid" : "spout"}, framing: [${wave(17, 0.4, 0.6)}, 0.5] }
`;
}
