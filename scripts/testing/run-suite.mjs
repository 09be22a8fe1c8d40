// Runs one step or one suite and returns its counts. A crash, a time-out and a suite without a test count as failed.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { runCommand } from "../run-command.mjs";

/** What hangs is to end some time; on an idle machine the longest takes a third of it. */
const SUITE_TIMEOUT_MS = 15 * 60_000;

/** @typedef {{ name: string, passed: number, failed: number, seconds: number, output: string }} Outcome */

/** @returns {Promise<Outcome>} */
export async function runStep(root, { name, command: [program, ...args] }) {
  const start = Date.now();
  const { code, output } = await runCommand(program, args, { cwd: root, timeoutMs: SUITE_TIMEOUT_MS });
  const ok = code === 0;
  return { name, passed: ok ? 1 : 0, failed: ok ? 0 : 1, seconds: secondsSince(start), output: ok ? "" : output };
}

/** @returns {Promise<Outcome>} */
export async function runSuite(root, { name, spec }) {
  const start = Date.now();
  const folder = await mkdtemp(path.join(os.tmpdir(), "movewright-test-"));
  try {
    const countsFile = path.join(folder, "counts.json");
    const reporter = path.join(root, "scripts", "testing", "count-reporter.mjs");
    const mocha = path.join(root, "node_modules", "mocha", "bin", "mocha.js");
    const args = [mocha, "--forbid-only", "--reporter", reporter, "--reporter-option", `output=${countsFile}`, spec];
    const { code, output } = await runCommand(process.execPath, args, { cwd: root, timeoutMs: SUITE_TIMEOUT_MS });
    return { name, seconds: secondsSince(start), ...(await outcome(code, countsFile, output)) };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function outcome(code, countsFile, output) {
  const counts = await readFile(countsFile, "utf8").then(JSON.parse, () => undefined);
  const broken = (reason) => ({
    passed: counts?.passed ?? 0,
    failed: (counts?.failed ?? 0) + 1,
    output: `${output}\n${reason}`,
  });
  if (code === 124) return broken(`Stopped after ${SUITE_TIMEOUT_MS / 60_000} minutes.`);
  if (counts === undefined) return broken(`It ended with exit code ${code} before its tests did.`);
  if (counts.pending > 0) return broken(`${counts.pending} tests are skipped; none may be.`);
  if (counts.passed + counts.failed === 0) return broken("It ran no test.");
  if (code !== 0 && counts.failed === 0) return broken(`It ended with exit code ${code} though no test failed.`);
  return { passed: counts.passed, failed: counts.failed, output: counts.failed > 0 ? output : "" };
}

function secondsSince(start) {
  return (Date.now() - start) / 1000;
}
