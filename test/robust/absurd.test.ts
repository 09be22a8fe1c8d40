import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { fileOfPath } from "../../host/file-path.ts";

/** Longest that the processor may be busy between two yields [ms]: twice what the worst of these takes on a slow machine. */
const LONGEST_MS = 1200;
/** As long as one of them is looked at [ms of processor time]: a server drops what nobody wants any more. */
const LOOKED_MS = 1500;

const root = fileURLToPath(new URL("../../examples", import.meta.url));
const disk = diskSources([root]);

/** What stands in a move of the demo, and what is typed in its place; `told` where it is to be a finding, as soon as it is known. */
const CASES: readonly (readonly [move: string, written: string, typed: string, told?: "told"])[] = [
  ["lid-then-cup", "swing: 19,", "swing: 1000000,", "told"],
  ["lid-then-cup", "swing: 19,", "swing: 360000,"],
  ["lid-then-cup", "lift: 6, plate", "lift: -90000, plate"],
  ["lid-then-cup", "dolly: 1.1, swing: 19", "dolly: 100000, swing: 19"],
  ["lid-then-cup", "column: 1.25", "column: -100000"],
  ["lid-then-cup", "column: 1.25", "column: 1e300", "told"],
  ["lid-then-cup", "plate: 40 }", "plate: 360000 }", "told"],
  ["lid-then-cup", "hold: 1.5 s", "hold: 9 h"],
  ["lid-then-cup", "hold: 50 f", "hold: 100000 f"],
  ["lid-then-cup", "after: 3.4 s", "after: 1e6 s"],
  ["lid-then-cup", "time: 8 s", "time: 1000000 s"],
  ["lid-then-cup", "time: 8 s", "time: 1e-300 s", "told"],
  ["lid-then-cup", "framing: [0.5, 0.5]", "framing: [1e9, 0.5]", "told"],
  ["lid-then-cup", "at: [-0.9, -0.35], heading: 6", "at: [90000, -0.35], heading: 360000"],
  ["lid-then-cup", "speed: 60 %", "speed: 1e-9"],
  ["once-around", "plate: -80", "plate: 350000"],
  ["once-around", "at: 16 s", "at: 1e9 s", "told"],
  ["once-around", "at: 16 s", "at: 277 h"],
  ["once-around", "stabilise: 3 %", "stabilise: 1e9", "told"],
  ["pot-to-cup", "zoom: 60 mm", "zoom: 100000 m", "told"],
  ["pot-to-cup", "roll: 6 deg", "roll: 360000 deg"],
  ["over-the-lid", "rate: ", "rate: 1000000 #", "told"],
];

const busy = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

describe("absurd values", () => {
  const sourcesWith = (file: string, text: string): ReturnType<typeof diskSources> => ({
    read: (each) => (each === file ? { state: "text", text } : disk.read(each)),
  });

  /** Runs an analysis as the server does, a step after the other, for a while. */
  const look = (file: string, text: string): { longest: number; steps: number; over: boolean; findings: number } => {
    const task = analyse(file, sourcesWith(file, text), createMemo());
    const begun = busy();
    const seen = { longest: 0, steps: 0, over: false, findings: 0 };
    while (!seen.over && busy() - begun < LOOKED_MS) {
      const before = busy();
      const step = task.next();
      // The first step reads the text, with all that it uses.
      if (seen.steps > 0) seen.longest = Math.max(seen.longest, busy() - before);
      seen.steps += 1;
      if (!step.done) continue;
      seen.over = true;
      seen.findings = step.value.textFindings.length + step.value.motionFindings.length;
    }
    return seen;
  };

  before("what was never run is compiled first", function () {
    this.timeout(60_000);
    for (const name of new Set(CASES.map(([move]) => move))) {
      const file = fileOfPath(`${root}/moves/${name}.move.yaml`);
      look(file, readFileSync(file, "utf8"));
    }
  });

  for (const [name, written, typed, told] of CASES) {
    it(`let messages in: ${typed} in ${name}`, function () {
      this.timeout(60_000);
      const file = fileOfPath(`${root}/moves/${name}.move.yaml`);
      const text = readFileSync(file, "utf8");
      assert.ok(text.includes(written), `${written} is in ${name}`);
      const { longest, steps, over, findings } = look(file, text.replace(written, typed));
      assert.ok(longest < LONGEST_MS, `${longest.toFixed(0)} ms in one of ${steps} steps`);
      if (told && over) assert.ok(findings > 0, "it is told that this can't be");
    });
  }
});
