// Prepares the hosted editor from packages of the npm registry: nothing else is downloaded and nothing is compiled.
import { copyFile, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { step } from "../progress.mjs";
import { runNpm } from "../run-command.mjs";
import { recipe } from "./recipe.mjs";

/**
 * Makes the hosted editor ready; at once when it already is.
 *
 * @returns {Promise<void>}
 * @throws Error that says which step failed, with the end of its output.
 */
export async function prepareHost() {
  if (await isReady()) return;
  await step("Preparing the hosted editor (once, about 300 MB)", async () => {
    await rm(recipe.folder, { recursive: true, force: true });
    await mkdir(recipe.folder, { recursive: true });
    const manifest = { private: true, dependencies: recipe.dependencies };
    await writeFile(path.join(recipe.folder, "package.json"), JSON.stringify(manifest, null, 2));
    // Install scripts would need a compiler, and download a search program.
    await install(recipe.folder, []);
    await install(recipe.server, ["--omit=dev"]);
    await install(path.join(recipe.server, "extensions"), ["--omit=dev"]);
    await mkdir(path.dirname(recipe.ripgrepExpected), { recursive: true });
    await copyFile(recipe.ripgrep, recipe.ripgrepExpected);
    for (const [standIn, original] of recipe.standIns) await copyFile(standIn, original);
    await writeFile(recipe.readyFile, JSON.stringify(stamp()));
  });
}

async function isReady() {
  try {
    return (await readFile(recipe.readyFile, "utf8")) === JSON.stringify(stamp());
  } catch (error) {
    if (error.code === "ENOENT") return false;
    throw error;
  }
}

/** Whatever this holds decides whether an older preparation is used again. */
function stamp() {
  return {
    revision: recipe.revision,
    dependencies: recipe.dependencies,
    platform: process.platform,
    arch: process.arch,
  };
}

async function install(folder, flags) {
  const args = ["install", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error", ...flags];
  const { code, output } = await runNpm(args, { cwd: folder });
  if (code !== 0) {
    throw new Error(`"npm ${args.join(" ")}" failed in ${folder}:\n${output.slice(-2000)}`);
  }
}
