import { seededRandom } from "../../core/base/random.ts";

/** The text of a move of the kit before its keys. */
export const headOf = (rig: string): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
`;

/** Axes of the kit's rigs: how far a random key takes each of them. */
const AXES: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  slider: { slide: 0.5 },
  crane: { swing: 10, lift: 5 },
  telescope: { swing: 10, lift: 5, tube: 0.3 },
};

/** The text of a move of 2 to 5 keys on a rig of the kit, with aims, framings, focus, holds, eases and speeds. */
export function randomMoveText(seed: number): string {
  const random = seededRandom(seed);
  const some = (share: number): boolean => random() < share;
  const pick = (...from: readonly string[]): string => from[Math.floor(random() * from.length)];
  const part = (size: number): string => ((2 * random() - 1) * size).toFixed(3);
  const rig = pick(...Object.keys(AXES));
  const count = 2 + Math.floor(random() * 4);
  const lines = Array.from({ length: count }, (_, key) => {
    const fields = [key === 0 ? "at: 0 s" : `after: ${pick("1.5 s", "60 f", "2200 ms", "00:00:01:20")}`];
    const axes = Object.entries(AXES[rig]).filter(() => key === 0 || some(0.8));
    const given = axes.map(([name, size]) => `${name}: ${part(size)}`);
    if (some(0.3)) given.push(`plate: ${part(40)}`);
    if (0 < given.length) fields.push(`axes: { ${given.join(", ")} }`);
    if (key === 0 || some(0.4)) {
      fields.push(
        `aim: ${pick("lid", "spout", "{ at: lid, framing: [0.4, 0.5] }", "{ at: spout, framing: [0.55, 0.45] }")}`,
      );
    }
    if (some(0.3)) fields.push(`focus: ${pick("lid", "spout", "2 m", "1.8 m")}`);
    if (some(0.15)) fields.push("hold: 10 f");
    if (some(0.15)) fields.push("stop: true");
    if (0 < key && some(0.15)) {
      fields.push(`ease: ${pick("minimum-jerk", "{ linear: { ramp: 0.2 s } }", "{ cubic: [0.3, 0, 0.4, 1] }")}`);
    }
    if (0 < key && some(0.2)) fields.push("switch: { begin: 20 %, end: 90 % }");
    if (0 < key && some(0.1)) fields.push(`speed: ${pick("50 %", "120 %")}`);
    return `  - { ${fields.join(", ")} }\n`;
  });
  return `${headOf(rig)}keys:\n${lines.join("")}`;
}
