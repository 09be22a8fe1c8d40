// npm run package: builds, minified, and packs movewright-VERSION.vsix.
import { mkdir, readFile, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { buildAll } from "./build.mjs";
import { step } from "./progress.mjs";
import { runCommand } from "./run-command.mjs";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");
const MAX_BYTES = 1_500_000;

try {
  await buildAll({ production: true, ifStale: true });
  const file = await step("Packing", pack);
  const { size } = await stat(path.join(root, file));
  if (size > MAX_BYTES) throw new Error(`${file} has ${size} bytes; at most ${MAX_BYTES} are meant to be.`);
  process.stdout.write(`${file} (${(size / 1e6).toFixed(2)} MB)\n`);
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}

async function pack() {
  const { name, version } = JSON.parse(await readFile(path.join(root, "package.json"), "utf8"));
  const file = `${name}-${version}.vsix`;
  await writeReadme();
  const vsce = path.join(root, "node_modules", "@vscode", "vsce", "vsce");
  const flags = ["--no-dependencies", "--allow-missing-repository", "--no-rewrite-relative-links"];
  const args = [vsce, "package", ...flags, "--readme-path", ".cache/package-readme.md", "--out", file];
  const { code, output } = await runCommand(process.execPath, args, { cwd: root });
  if (code !== 0) throw new Error(`vsce failed:\n${output}`);
  return file;
}

/** The README without its picture and its links into the source, which are not in the package. */
async function writeReadme() {
  const readme = await readFile(path.join(root, "README.md"), "utf8");
  const withoutPictures = readme.replace(/^!\[.*\n+/gm, "");
  const withoutLinks = withoutPictures.replace(/\[([^\]]+)\]\((?!https?:)[^)]*\)/g, "$1");
  await mkdir(path.join(root, ".cache"), { recursive: true });
  await writeFile(path.join(root, ".cache", "package-readme.md"), withoutLinks);
}
