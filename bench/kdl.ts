import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, statSync, writeFileSync } from "node:fs";
import { matrixFromQuat, type Quat } from "../core/base/quat.ts";
import { compileRig } from "../core/rig/chain.ts";
import type { ResolvedRig } from "../core/rig/resolved-rig.ts";
import type { Figure } from "./measure.ts";
import { COMPARED, COUNT, SEED } from "./reach.ts";
import { reachCases, type Start } from "./reach-cases.ts";

const HEADER = "/usr/include/kdl/chain.hpp";
const SOURCE = "bench/reference/kdl.cpp";
const FOLDER = ".cache/bench";
const PROGRAM = `${FOLDER}/kdl`;
const LIBRARY = "liborocos-kdl-dev";
/** Of our cases, from the first on: its solvers take long. */
const SHARE = 0.2;

interface Measurement {
  readonly chain: string;
  readonly start: Start | "none";
  readonly solver: string;
  readonly count: number;
  readonly solved: number;
  readonly seconds: number;
}

/**
 * What Orocos KDL's C++ solvers do with the same chains, targets, starts and tolerance; or one line that says why they
 * were not measured. Installs Debian's library where that is allowed.
 */
export function benchKdl(): Figure[] | string {
  const missing = prepare();
  if (missing !== undefined) return `Orocos KDL was not measured: ${missing}`;
  const cases = `${FOLDER}/kdl-cases.txt`;
  writeFileSync(cases, COMPARED.map(written).join(""));
  const run = spawnSync(PROGRAM, [cases], { encoding: "utf8", timeout: 600_000 });
  if (run.status !== 0) return `Orocos KDL was not measured: its program ended with ${run.status ?? run.signal}`;
  return run.stdout
    .trim()
    .split("\n")
    .map((line) => figureOf(JSON.parse(line) as Measurement));
}

function figureOf({ chain, start, solver, count, solved, seconds }: Measurement): Figure {
  const isForward = start === "none";
  const shared = { value: solved / seconds, facts: { solved: `${solved}/${count}` } };
  if (isForward) return { name: `KDL: forward kinematics, ${chain}`, unit: "poses/s", ...shared };
  return { name: `KDL: reach, ${start}, ${chain}: ${solver}`, unit: "solved/s", ...shared };
}

/** Builds the program when it is not there or older than its source. Returns what is missing. */
function prepare(): string | undefined {
  if (!existsSync(HEADER)) {
    const isRoot = process.getuid?.() === 0;
    if (!isRoot || !existsSync("/etc/debian_version"))
      return `${LIBRARY} is not installed (Debian: apt-get install ${LIBRARY})`;
    const options = {
      stdio: "ignore",
      timeout: 300_000,
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
    } as const;
    const install = ["install", "-y", "--no-install-recommends", LIBRARY];
    if (spawnSync("apt-get", install, options).status !== 0) {
      spawnSync("apt-get", ["update"], options);
      spawnSync("apt-get", install, options);
    }
    if (!existsSync(HEADER)) return `${LIBRARY} could not be installed`;
  }
  mkdirSync(FOLDER, { recursive: true });
  if (existsSync(PROGRAM) && statSync(SOURCE).mtimeMs < statSync(PROGRAM).mtimeMs) return undefined;
  const flags = ["-O2", "-std=c++17", SOURCE, "-o", PROGRAM, "-I/usr/include/eigen3", "-lorocos-kdl"];
  const build = spawnSync("g++", flags, { encoding: "utf8", timeout: 300_000 });
  if (build.error) return "there is no g++";
  return build.status === 0 ? undefined : `it could not be built: ${build.stderr.split("\n")[0]}`;
}

/** A chain with its cold and warm cases, as the program reads them. */
function written(rig: ResolvedRig): string {
  const chain = compileRig(rig);
  const lines = [`${rig.name.replaceAll(" ", "_")} ${rig.joints.length}`];
  for (const { type, along, origin, range } of rig.joints) {
    const frame = [...rotation(origin.turn), ...origin.at];
    lines.push([type === "rotary" ? 1 : 0, ...along, ...frame, range?.low, range?.high].join(" "));
  }
  lines.push([...rotation(rig.mount.turn), ...rig.mount.at].join(" "));
  for (const start of ["cold", "warm"] as const) {
    const cases = reachCases(chain, start, COUNT[start], SEED).slice(0, SHARE * COUNT[start]);
    lines.push(`${cases.length}`);
    for (const one of cases) lines.push([...one.rotation, ...one.position, ...one.start].join(" "));
  }
  return `${lines.join("\n")}\n`;
}

function rotation(turn: Quat): Float64Array {
  const out = new Float64Array(9);
  matrixFromQuat(turn, out);
  return out;
}
