import type { Sources } from "../core/model/sources.ts";
import { memorySources } from "../test/fixtures/memory-sources.ts";
import { BODIES, CAMERA_FILE, moveKey, moveOf, RIG, RIG_FILE, SET_FILE } from "./documents.ts";

/** What stands around a move: nothing that could be run into, or all that a set has. */
export type Setting = "open" | "full";

export const OBSTACLES = 20;

/** Nine axes: seven that drive, one that follows, one turntable. It states all that a rig can state but bodies; invented. */
const NINE = `${RIG.replace(
  "  - { axis: pan,",
  "  - { axis: level, type: rotary, along: [0, 1, 0], follows: { axis: lift, ratio: -1 } }\n  - { axis: pan,",
).replace(/axis: (track|swing|lift|boom|pan|tilt|roll), type: (linear|rotary), (.*) }$/gm, (_, axis, type, rest) => {
  const repeat = type === "linear" ? "sigma: 0.05 mm, slip: 0.04 mm/m" : "sigma: 0.001 deg, backlash: 0.002 deg";
  return `axis: ${axis}, type: ${type}, ${rest}, repeat: { ${repeat} } }`;
})}masses:
  - { on: track, name: base, at: [0, 0, 0.2], mass: 120 kg }
  - { on: swing, name: mast, at: [0, 0, 0.1], mass: 14 kg }
  - { on: lift, name: arm, at: [0.7, 0, 0], mass: 9 kg }
  - { on: boom, name: inner arm, at: [-0.6, 0, 0], mass: 4 kg }
  - { on: pan, name: head, at: [0, 0, -0.05], mass: 3 kg }
counterweight: { on: lift, at: [-0.7, 0, 0], mass: 32 kg, tolerance: 60 % }
support: { on: track, corners: [[-0.5, 0.4], [0.5, 0.4], [0.5, -0.4], [-0.5, -0.4]] }
payload: { limit: 8 kg }
`;

const CAMERA = `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg, coc: 0.03 mm }
shutter: 180 deg
lenses:
  prime-35:
    focal: 35 mm
    iris: 2.8
    close-focus: 0.28 m
    pupil: 52 mm
    front: { length: 110 mm, diameter: 82 mm }
    mass: 0.7 kg
    motors:
      focus:
        scale: [[infinity, 0 deg], [3 m, 26 deg], [1.5 m, 53 deg], [0.8 m, 99 deg], [0.5 m, 157 deg], [0.28 m, 276 deg]]
        limits: { speed: 180, accel: 1500, jerk: 20000 }
      iris: { scale: [[2.8, 0 deg], [22, 72 deg]], limits: { speed: 90 } }
attachments:
  - { name: matte-box, box: [0.05, 0.16, 0.12], at: [0.12, 0, 0], mass: 0.4 kg }
`;

const SET = `set: 1
turntables:
  plate: { at: [7.5, 0, 0.9], range: [-360, 360], limits: { speed: 40, accel: 60, jerk: 300 } }
targets:
  lid: { at: [0, 0.1, 0.1], on: plate }
  spout: { at: [7.2, -0.3, 1.1] }
`;

/** Solids of every kind in two rows beside the way of the arm, near enough that some are looked at closely; two people behind. */
function around(): string {
  const kinds = [
    "box: [0.3, 0.4, 0.9]",
    "cylinder: { radius: 0.15, height: 1.1 }",
    "sphere: { radius: 0.2 }",
    "capsule: { radius: 0.1, height: 0.8 }",
  ];
  const rows = Array.from({ length: OBSTACLES }, (_, idx) => {
    const at = [0.8 + 0.35 * idx, idx % 2 === 0 ? 1.6 : -1.6, 0.3 + 0.1 * (idx % 7)];
    return `  o${idx}: { ${kinds[idx % 4]}, at: [${at.map((value) => value.toFixed(2)).join(", ")}] }\n`;
  });
  return `obstacles:
${rows.join("")}people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [8.6, 1.4, 0.875] }
  puller: { cylinder: { radius: 0.3, height: 1.8 }, at: [3, 3.2, 0.9] }
`;
}

/** A move of `count` keys, one a second, on nine axes: it focuses, keys the table, and is taken three times. */
export function settingMove(count: number, seed = 0): string {
  const keys = Array.from({ length: count }, (_, idx) => {
    const plate = (30 * Math.sin(((idx + seed) * 2 * Math.PI) / 37)).toFixed(2);
    const at = Math.floor(idx / 10) % 2 === 0 ? "lid" : "spout";
    return `${moveKey(idx, seed).replace("    aim:", `      plate: ${plate}\n    aim:`)}    focus: ${at}\n`;
  });
  return `${moveOf(count, keys)}passes:
  - { name: celadon, times: 2 }
  - { name: tenmoku }
tolerance: { match: 10 px }
`;
}

/** The documents of a setting, with moves by their files. */
export function settingWith(setting: Setting, moves: Readonly<Record<string, string>>): Sources {
  const kit: [string, string][] = [
    [RIG_FILE, setting === "full" ? NINE + BODIES : NINE],
    [CAMERA_FILE, CAMERA],
    [SET_FILE, setting === "full" ? SET + around() : SET],
  ];
  return memorySources(new Map([...kit, ...Object.entries(moves)]));
}
