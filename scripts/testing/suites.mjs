// What `npm test` runs: steps that count as one test each, and suites that count their own.
import { existsSync, readdirSync } from "node:fs";
import path from "node:path";

const node = process.execPath;

/** Each is one test: it passes when its program ends with 0. They run before the suites, longest first. */
export const steps = [
  { name: "types", command: [node, "scripts/typecheck.mjs"] },
  { name: "lint", command: [node, "node_modules/eslint/bin/eslint.js", ".", "--max-warnings", "0"] },
  { name: "format", command: [node, "node_modules/prettier/bin/prettier.cjs", "--check", "--log-level", "warn", "."] },
  { name: "generated", command: [node, "scripts/generate.mjs", "--check"] },
  // Minified, as it is packaged: the suites that need a build use this one.
  { name: "build", command: [node, "scripts/build.mjs", "--production"] },
];

/** What a suite needs on the machine beside Node. */
const needs = {
  "test/lsp": ["browser"],
  "test/stage": ["browser"],
  "test/review": ["browser"],
  "test/editor": ["browser", "host"],
  "test/package": ["browser", "host"],
};

/** These take longest and start first, so that the end doesn't wait for one of them alone. */
const longestFirst = [
  "test/editor",
  "test/fuzz",
  "test/stage",
  "test/package",
  "core/motion",
  "test/lsp",
  "test/robust",
  "test/demo",
];

/** Folders whose files are long enough to be suites of their own. */
const byFile = ["test/stage"];

/** Every folder that holds tests is a suite, or its files are: tests beside the code by folder, and each folder of test/. */
export function findSuites(root) {
  const beside = ["cli", "client", "host", "protocol", "server", "webview", "bench", "scripts"];
  const inside = (folder) =>
    readdirSync(path.join(root, folder), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => `${folder}/${entry.name}`);
  const rank = (name) => (longestFirst.includes(name) ? longestFirst.indexOf(name) : longestFirst.length);
  return [...inside("core"), ...beside, ...inside("test")]
    .filter((folder) => existsSync(path.join(root, folder)) && holdsTests(path.join(root, folder)))
    .sort((a, b) => rank(a) - rank(b))
    .flatMap((folder) => suitesOf(root, folder).map((suite) => ({ ...suite, needs: needs[folder] ?? [] })));
}

function suitesOf(root, folder) {
  if (!byFile.includes(folder)) return [{ name: folder, spec: `${folder}/**/*.test.ts` }];
  const files = readdirSync(path.join(root, folder)).filter((file) => file.endsWith(".test.ts"));
  return files.map((file) => ({ name: `${folder}/${file.replace(".test.ts", "")}`, spec: `${folder}/${file}` }));
}

function holdsTests(folder) {
  return readdirSync(folder, { recursive: true }).some((file) => String(file).endsWith(".test.ts"));
}
