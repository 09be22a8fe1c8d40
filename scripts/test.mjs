// npm test [-- NAME…]: prepares the machine, runs every step and suite, or those whose names start with a NAME, and ends
// with one plain line of counts. Exit code 0 only when all passed.
import path from "node:path";
import { fileURLToPath } from "node:url";
import { stopAll } from "./run-command.mjs";
import { prepareMachine } from "./testing/prepare-machine.mjs";
import { runStep, runSuite } from "./testing/run-suite.mjs";
import { findSuites, steps } from "./testing/suites.mjs";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");
/** Suites that run at the same time; a browser takes a core of its own. */
const AT_ONCE = 2;
const outcomes = [];

for (const signal of ["SIGINT", "SIGTERM"]) {
  process.once(signal, () => {
    stopAll("SIGKILL");
    process.exit(130);
  });
}

const wanted = process.argv.slice(2);
const isWanted = ({ name }) =>
  wanted.length === 0 || wanted.some((start) => name === start || name.startsWith(`${start}/`));
const suites = findSuites(root).filter(isWanted);
const missing = await prepareMachine(new Set(suites.flatMap((suite) => suite.needs)));

await runAll(steps.filter(isWanted), (step) => runStep(root, step));
// Only now: some suites use what the last step has built.
await runAll(suites, runPrepared);

const sum = (field) => outcomes.reduce((total, outcome) => total + outcome[field], 0);
const passed = sum("passed");
const nothingRan = outcomes.length === 0 ? 1 : 0;
const failed = sum("failed") + nothingRan;
if (nothingRan > 0) console.log(`Nothing is named ${wanted.join(" or ")}.`);
const failures = outcomes.filter((outcome) => outcome.failed > 0).map(({ name }) => name);
if (failures.length > 0) console.log(`Failed in: ${failures.join(", ")}`);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;

async function runAll(jobs, run) {
  const queue = [...jobs];
  const work = async () => {
    for (let job = queue.shift(); job !== undefined; job = queue.shift()) record(await run(job));
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
}

async function runPrepared(suite) {
  const lacking = suite.needs.filter((need) => missing.has(need)).map((need) => missing.get(need));
  if (lacking.length === 0) return runSuite(root, suite);
  return { name: suite.name, passed: 0, failed: 1, seconds: 0, output: lacking.join("\n") };
}

function record(outcome) {
  outcomes.push(outcome);
  const { name, passed, failed, seconds, output } = outcome;
  const result = failed === 0 ? `${passed} passed` : `${passed} passed, ${failed} FAILED`;
  console.log(`${name.padEnd(24)} ${result.padEnd(24)} ${seconds.toFixed(1).padStart(6)} s`);
  if (output.trim() !== "") console.log(output.trim().replace(/^/gm, "    "));
}
