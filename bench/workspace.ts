import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildAll } from "../scripts/build.mjs";
import { CAMERA, moveText, RIG, SET } from "./documents.ts";
import type { Figure } from "./measure.ts";

const PROGRAM = fileURLToPath(new URL("../dist/cli/main.cjs", import.meta.url));
const ROUNDS = 3;

/** Told by the program itself when it ends: all of its threads are in it. */
const METER = `process.on("exit", () => {
  const { user, system } = process.cpuUsage();
  const { maxRSS } = process.resourceUsage();
  require("node:fs").writeFileSync(process.env.BENCH_METER, JSON.stringify({ cpu: (user + system) / 1e6, mebibytes: maxRSS / 1024 }));
});
`;

interface Run {
  /** [s] */
  readonly wall: number;
  /** Of all cores together [s]. */
  readonly cpu: number;
  readonly mebibytes: number;
  readonly output: string;
}

/**
 * `movewright check` of many moves of 8 keys, as it ships: start, warming up and answer included. The machine's load tells
 * on the times of several threads first.
 */
export async function benchWholeWorkspace(count: number): Promise<Figure[]> {
  await buildAll({ production: true, ifStale: true });
  const folder = mkdtempSync(join(tmpdir(), "bench-workspace-"));
  try {
    writeKit(folder, count);
    const cold = (jobs: number) => () => check(folder, "--no-cache", "--jobs", String(jobs));
    const kept = () => check(folder, "--cache", ".kept", "--jobs", "1");
    const one = median(cold(1));
    const two = median(cold(2));
    const filling = kept();
    const warm = median(kept);
    for (const { output } of [two, filling, warm]) {
      if (output !== one.output) throw new Error("Runs of the same documents answered differently.");
    }
    return [
      figureOf(`${count} moves checked by 1 thread, a second and core`, count, one, one.cpu, "100"),
      figureOf(`${count} moves checked by 2 threads, a second and core`, count, two, two.cpu, "100"),
      figureOf(`${count} moves checked by 2 threads, a second`, count, two, two.wall),
      figureOf(`${count} moves that are unchanged, a second and core`, count, warm, warm.cpu),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function writeKit(folder: string, count: number): void {
  mkdirSync(join(folder, "moves"));
  const kit = { "movewright.config.yaml": "config: 1\n", "moves/seven.rig.yaml": RIG, "moves/a.camera.yaml": CAMERA, "moves/a.set.yaml": SET }; // prettier-ignore
  for (const [name, text] of Object.entries(kit)) writeFileSync(join(folder, name), text);
  for (let i = 0; i < count; i++) writeFileSync(join(folder, "moves", `${i}.move.yaml`), moveText(8, i));
  writeFileSync(join(folder, "meter.cjs"), METER);
}

function check(folder: string, ...options: readonly string[]): Run {
  const meter = join(folder, "meter.json");
  const begun = performance.now();
  const args = ["--require", join(folder, "meter.cjs"), PROGRAM, "check", ".", "--format", "json", ...options];
  const { stdout, stderr, status } = spawnSync(process.execPath, args, {
    cwd: folder,
    encoding: "utf8",
    maxBuffer: 2 ** 28,
    env: { ...process.env, BENCH_METER: meter },
  });
  const wall = (performance.now() - begun) / 1000;
  if (status !== 0 && status !== 1) throw new Error(`The check could not run: ${stderr}`);
  const used = JSON.parse(readFileSync(meter, "utf8")) as { cpu: number; mebibytes: number };
  return { wall, ...used, output: stdout };
}

function median(run: () => Run): Run {
  const runs = Array.from({ length: ROUNDS }, run);
  return runs.sort((a, b) => a.cpu - b.cpu)[Math.floor(ROUNDS / 2)];
}

function figureOf(name: string, count: number, run: Run, seconds: number, target?: string): Figure {
  const { files } = JSON.parse(run.output) as { files: { findings: { severity: string }[] }[] };
  const findings = files.flatMap((file) => file.findings);
  const errors = findings.filter(({ severity }) => severity === "error").length;
  return {
    name,
    value: count / seconds,
    unit: "moves/s",
    ...(target === undefined ? {} : { target }),
    facts: {
      "wall, s": run.wall.toFixed(1),
      "of cores, s": run.cpu.toFixed(1),
      MiB: Math.round(run.mebibytes),
      documents: files.length,
      errors,
      "other findings": findings.length - errors,
    },
  };
}
