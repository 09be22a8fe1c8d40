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

/** A move of `count` keys, one a second, that aims at a target and keys every other axis. `seed` varies its values. */
export function moveText(count: number, seed = 0): string {
  const keys = Array.from({ length: count }, (_, idx) => moveKey(idx, seed));
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
function moveKey(idx: number, seed: number): string {
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
