// Builds every bundle of the product into dist/.
//   node scripts/build.mjs               readable, with source maps
//   node scripts/build.mjs --production  minified, without
//   node scripts/build.mjs --if-stale    only when a source is newer than the last build; a minified one is good for all
import { build } from "esbuild";
import { chmod, mkdir, readFile, readdir, rm, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { bundles, sharing, sources, styleSheets } from "./bundles.mjs";
import { step } from "./progress.mjs";
import { buildPair } from "./shared-engine.mjs";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");
const stampFile = path.join(root, ".cache", "build.json");

/**
 * @param {{ production?: boolean, ifStale?: boolean }} options
 * @returns {Promise<void>}
 * @throws Error that names each entry that is missing or doesn't build.
 */
export async function buildAll({ production = false, ifStale = false } = {}) {
  if (ifStale && !(await isStale(production))) return;
  await step(production ? "Building, minified" : "Building", async () => {
    await requireEntries();
    const results = await buildBundles(production);
    await chmod(path.join(root, "dist/cli/main.cjs"), 0o755);
    for (const file of styleSheets) await stat(path.join(root, file));
    await removeLeftovers(results);
    report(results);
    await mkdir(path.dirname(stampFile), { recursive: true });
    await writeFile(stampFile, JSON.stringify({ production }));
  });
}

async function requireEntries() {
  const missing = [];
  for (const { entry } of bundles) {
    await stat(path.join(root, entry)).catch(() => missing.push(entry));
  }
  if (missing.length > 0) throw new Error(`Can't build: ${missing.join(", ")} not found.`);
}

async function buildBundles(production) {
  const common = {
    absWorkingDir: root,
    minify: production,
    sourcemap: production ? false : "linked",
    metafile: true,
    logLevel: "warning",
  };
  const pair = sharing.map((entry) => bundles.find((bundle) => bundle.entry === entry));
  const single = bundles.filter((bundle) => !pair.includes(bundle));
  const results = await Promise.all([
    buildPair(...pair, common),
    ...single.map(({ entry, out, options }) => build({ ...options, ...common, entryPoints: [entry], outfile: out })),
  ]);
  return results.flat();
}

/** An older build may have made other files; they go last, so that an editor that runs on the old ones keeps going. */
async function removeLeftovers(results) {
  const made = new Set(results.flatMap(({ metafile }) => Object.keys(metafile.outputs)));
  for (const entry of await readdir(path.join(root, "dist"), { recursive: true, withFileTypes: true })) {
    const file = path.join(entry.parentPath, entry.name);
    const name = path.relative(root, file).split(path.sep).join("/");
    if (!entry.isDirectory() && !made.has(name)) await rm(file);
  }
}

/** One line a file, largest first, with what makes the most of it. */
function report(results) {
  const outputs = results.flatMap(({ metafile }) => Object.entries(metafile.outputs));
  const rows = outputs
    .filter(([file]) => !file.endsWith(".map"))
    .sort(([, a], [, b]) => b.bytes - a.bytes)
    .map(([file, { bytes, inputs }]) => `  ${kilobytes(bytes)}  ${file}  (${largestParts(inputs)})`);
  process.stderr.write(`${rows.join("\n")}\n`);
}

function largestParts(inputs) {
  const bytesOf = new Map();
  for (const [file, { bytesInOutput }] of Object.entries(inputs)) {
    const part = file.match(/node_modules\/((?:@[^/]+\/)?[^/]+)/)?.[1] ?? "own code";
    bytesOf.set(part, (bytesOf.get(part) ?? 0) + bytesInOutput);
  }
  const largest = [...bytesOf].sort(([, a], [, b]) => b - a).slice(0, 3);
  return largest.map(([part, bytes]) => `${part} ${kilobytes(bytes).trim()}`).join(", ");
}

function kilobytes(bytes) {
  return `${(bytes / 1000).toFixed(0)} kB`.padStart(8);
}

async function isStale(production) {
  let built;
  try {
    if (production && !JSON.parse(await readFile(stampFile, "utf8")).production) return true;
    built = (await stat(stampFile)).mtimeMs;
    for (const file of [...bundles.map(({ out }) => out), ...styleSheets]) await stat(path.join(root, file));
  } catch {
    return true; // No build, or not a whole one.
  }
  for (const source of sources) {
    if ((await newestChange(path.join(root, source))) > built) return true;
  }
  return false;
}

/** Time of the newest change in a file or a folder, folders included since a removal changes only them. */
async function newestChange(target) {
  const info = await stat(target);
  if (!info.isDirectory()) return info.mtimeMs;
  const children = await readdir(target);
  const times = await Promise.all(children.map((child) => newestChange(path.join(target, child))));
  return Math.max(info.mtimeMs, ...times);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    await buildAll({ production: process.argv.includes("--production"), ifStale: process.argv.includes("--if-stale") });
  } catch (error) {
    console.error(error.message);
    process.exitCode = 1;
  }
}
