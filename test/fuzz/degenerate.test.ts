import assert from "node:assert/strict";
import { solveAnswer } from "../../cli/solve-answer.ts";
import type { Task } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import { sampleTake } from "../../core/motion/sample.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import { memorySources } from "../fixtures/memory-sources.ts";
import { changed } from "./any-document.ts";
import { randomChoices } from "./random.ts";
import { CAMERA, MOVES, RIGS, SET } from "./sound-documents.ts";

/** More runs by hand: `MOVEWRIGHT_FUZZ_RUNS=5000 npx mocha test/fuzz/degenerate.test.ts`. */
const RUNS = Number(process.env.MOVEWRIGHT_FUZZ_RUNS ?? 30);
const FIRST = Number(process.env.MOVEWRIGHT_FUZZ_FIRST ?? 1);

/** Between two yields lies a few milliseconds' work: more of them is work without bound. */
const MOST_STEPS = 20_000;

const FILES = ["a.rig.json", "a.camera.json", "a.set.json", "a.move.json"] as const;

function documentsOf(seed: number): ReadonlyMap<string, string> {
  const random = randomChoices(seed);
  const sound = [random.pick(RIGS), CAMERA, SET, random.pick(MOVES)];
  const kinds = ["rig", "camera", "set", "move"] as const;
  // Four of five documents stay sound, so that most moves can be resolved.
  const values = sound.map((value, i) => (random.below(5) === 0 || i === 3 ? changed(kinds[i], value, random) : value));
  return new Map(values.map((value, i) => [FILES[i], JSON.stringify(value)]));
}

function counted<T>(task: Task<T>, what: string): T {
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const step = task.next();
    if (step.done) return step.value;
  }
  return assert.fail(`${what}: more than ${MOST_STEPS} steps`);
}

/** Where a value that is printed holds a number that is none. */
function faultIn(value: unknown, path: string): string | undefined {
  if (typeof value === "number") return Number.isFinite(value) ? undefined : `${path} is ${value}`;
  if (typeof value === "string") return /\bNaN\b|Infinity|undefined/.test(value) ? `${path}: ${value}` : undefined;
  if (typeof value !== "object" || value === null) return undefined;
  for (const [name, item] of Object.entries(value)) {
    const fault = faultIn(item, `${path}.${name}`);
    if (fault !== undefined) return fault;
  }
  return undefined;
}

function checkAnalysis(analysis: Analysis, name: string): void {
  const findings = [...analysis.textFindings, ...analysis.motionFindings];
  for (const finding of findings) {
    assert.notEqual(finding.code, "internal-error", `${name}: ${finding.message}`);
    assert.equal(faultIn(finding, finding.code), undefined, name);
  }
}

function checkAnswer(trajectory: Trajectory, name: string): void {
  const times = Array.from({ length: 9 }, (_, i) => (trajectory.duration * i) / 8);
  const take = counted(sampleTake(trajectory, times), name);
  assert.equal(faultIn(solveAnswer(trajectory, take), "solve"), undefined, name);
}

describe("documents at the edge of sense", () => {
  it("never throw, never give a number that is none, and end", () => {
    let planned = 0;
    for (let seed = FIRST; seed < FIRST + RUNS; seed++) {
      const documents = documentsOf(seed);
      const sources = memorySources(documents);
      for (const file of FILES) {
        const name = `seed ${seed}, ${file}`;
        const analysis = counted(analyse(file, sources), name);
        checkAnalysis(analysis, name);
        if (!analysis.trajectory) continue;
        planned += 1;
        checkAnswer(analysis.trajectory, name);
      }
    }
    assert.ok(RUNS / 4 < planned, `${planned} moves could be planned`);
  }).timeout(60_000 + 400 * RUNS);
});
