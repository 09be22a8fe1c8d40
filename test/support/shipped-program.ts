import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build, type BuildOptions } from "esbuild";
import { bundles as listed } from "../../scripts/bundles.mjs";
import { KIT } from "../fixtures/kit.ts";

interface Bundle {
  readonly entry: string;
  readonly out: string;
  readonly options: BuildOptions;
}

export interface Answer {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface ShippedProgram {
  /** The program's file. */
  readonly main: string;
  /** Where it runs: a folder of its own with the kit of the fixtures in `kit/` and `good.move.yaml`. */
  folder(): string;
  put(name: string, text: string): void;
  run(...args: string[]): Answer;
  /** Runs it with `input` on its standard input. */
  feed(input: string, ...args: string[]): Answer;
}

/** A move that checks clean, with a name, a start label, passes and a tall pot. */
export const MOVE = `move: 1
title: Lid
rig: kit/slider.rig.yaml
camera: { use: kit/a.camera.yaml, lens: wide }
set: kit/table.set.yaml
rate: 23.976
start: "01:00:00:00"
keys:
  - at: 0 s
    name: top
    axes: { slide: -0.2 }
    aim: { at: lid, framing: [0.5, 0.45] }
    focus: lid
  - at: 2 s
    axes: { slide: 0.1 }
    aim: { framing: [0.4, 0.5] }
passes:
  - { name: plain }
  - { name: tall, targets: { lid: { shift: [0, 0, 100 mm] } } }
`;

export const json = <T>(answer: Answer): T => JSON.parse(answer.stdout) as T;

/**
 * The command line as it ships, for the suite that calls this: bundled anew, as it starts in a tenth of the time that it
 * takes from its sources.
 *
 * @param name Tells its bundle from those of other suites.
 */
export function shippedProgram(name: string): ShippedProgram {
  const root = new URL("../../", import.meta.url);
  const main = fileURLToPath(new URL(`.cache/cli-test/${name}.cjs`, root));
  let folder = "";
  let cache = "";
  const put = (file: string, text: string): void => {
    mkdirSync(join(folder, file, ".."), { recursive: true });
    writeFileSync(join(folder, file), text);
  };
  const feed = (input: string | undefined, ...args: string[]): Answer =>
    spawnSync(process.execPath, [main, ...args], {
      cwd: folder,
      encoding: "utf8",
      // What one suite keeps, no other finds.
      env: { ...process.env, NO_COLOR: "", XDG_CACHE_HOME: cache },
      input,
    });
  before(async () => {
    const { entry, options } = (listed as readonly Bundle[]).find(({ out }) => out === "dist/cli/main.cjs") as Bundle;
    await build({ ...options, entryPoints: [fileURLToPath(new URL(entry, root))], outfile: main });
    folder = mkdtempSync(join(tmpdir(), `cli-${name}-`));
    cache = mkdtempSync(join(tmpdir(), `cli-${name}-cache-`));
    for (const [file, text] of Object.entries(KIT)) put(`kit/${file}`, text);
    put("good.move.yaml", MOVE);
  });
  after(() => {
    for (const made of [folder, cache]) rmSync(made, { recursive: true, force: true });
  });
  return { main, folder: () => folder, put, feed, run: (...args) => feed(undefined, ...args) };
}
