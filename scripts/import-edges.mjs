// Who may import whom: the one table that the linter and the architecture test both read.
import path from "node:path";

const core = (...names) => names.map((name) => `core/${name}`);
const wholeCore = core(
  "base",
  "syntax",
  "urdf",
  "schema",
  "lens",
  "rig",
  "solid",
  "mesh",
  "motion",
  "repeat",
  "load",
  "space",
  "model",
  "checks",
  "dialect",
  "draw",
  "compare",
  "review",
  "merge",
  "exchange",
  "edit",
  "layout",
);
const languageServer = ["vscode-languageserver", "vscode-languageserver-textdocument", "vscode-uri"];

/**
 * A part is a folder, or a single module that may do more than its folder. A file belongs to the longest part that its
 * path starts with. `parts` are the other parts that it may import, `packages` the packages; `node:` stands for all of
 * Node's own modules. A `type` list is for imports that leave no trace in the built program.
 */
export const allowedEdges = {
  "core/base": { parts: [], packages: [] },
  "core/syntax": { parts: core("base"), packages: ["yaml", "saxes"] },
  "core/urdf": { parts: core("base", "syntax"), packages: [] },
  "core/schema": { parts: core("base", "syntax"), packages: ["zod"] },
  "core/lens": { parts: core("base"), packages: [] },
  "core/rig": { parts: core("base", "lens"), packages: [] },
  "core/solid": { parts: core("base", "rig"), packages: [] },
  "core/mesh": { parts: core("base"), packages: [] },
  "core/motion": { parts: core("base", "lens", "rig"), packages: [] },
  "core/space": { parts: core("base", "solid", "lens", "rig", "motion"), packages: [] },
  "core/repeat": { parts: core("base", "lens", "rig", "motion"), packages: [] },
  "core/load": { parts: core("base", "lens", "rig", "motion"), packages: [] },
  "core/model": {
    parts: core("base", "syntax", "urdf", "schema", "lens", "rig", "solid", "mesh", "motion"),
    packages: [],
    type: ["zod"],
  },
  "core/checks": {
    parts: core("base", "syntax", "schema", "lens", "rig", "solid", "motion", "repeat", "load", "space", "model"),
    packages: [],
  },
  "core/draw": { parts: core("base", "lens", "rig", "solid", "motion"), packages: [] },
  "core/compare": { parts: core("base"), packages: [], type: core("motion") },
  "core/dialect": { parts: core("base", "syntax", "checks"), packages: [] },
  "core/edit": { parts: core("base", "syntax", "lens", "rig", "motion", "model", "checks"), packages: [] },
  "core/review": {
    parts: core("base", "syntax", "schema", "lens", "rig", "motion", "repeat", "space", "model", "checks", "compare"),
    packages: [],
  },
  "core/merge": { parts: core("base", "syntax", "schema", "model"), packages: ["node-diff3"] },
  "core/exchange": {
    parts: core(
      "base",
      "syntax",
      "schema",
      "lens",
      "rig",
      "solid",
      "motion",
      "repeat",
      "model",
      "checks",
      "draw",
      "review",
    ),
    packages: [],
  },
  "core/layout": { parts: core("base", "syntax"), packages: ["yaml"] },
  protocol: { parts: core("base"), packages: ["zod"], type: core("lens", "rig", "motion", "edit") },
  "server/service": { parts: [...wholeCore, "protocol"], packages: [] },
  server: { parts: [...wholeCore, "server/service", "protocol"], packages: languageServer },
  "server/main-node": { parts: ["server/node-server"], packages: [] },
  "server/node-server": {
    parts: [...wholeCore, "server", "server/service", "protocol", "host"],
    packages: [...languageServer, "node:"],
  },
  host: { parts: wholeCore, packages: ["node:"] },
  cli: {
    parts: [...wholeCore, "host", "cli/commands/serve", "cli/rasterise", "cli/stage-page"],
    packages: ["commander", "node:"],
  },
  "cli/stage-page": { parts: [...wholeCore, "host", "cli", "protocol", "server/service"], packages: ["node:"] },
  "cli/rasterise": { parts: ["cli", "host"], packages: ["@resvg/resvg-wasm", "node:"] },
  "cli/commands/serve": { parts: ["cli", "server/node-server"], packages: ["node:"] },
  client: { parts: ["protocol"], packages: ["vscode", "vscode-languageclient"] },
  webview: {
    parts: ["protocol", ...core("base", "lens", "rig", "solid", "compare")],
    packages: ["three", "uplot"],
    type: core("motion"),
  },
};

/** Code that runs only while developing: it may reach everything. */
const unbounded = ["test", "bench", "scripts"];

/** The part that a file of the project belongs to, or undefined for one that may import what it likes. */
export function partOf(file) {
  if (file.endsWith(".test.ts") || unbounded.some((folder) => file.startsWith(`${folder}/`))) return undefined;
  const matches = Object.keys(allowedEdges).filter((part) => file.startsWith(`${part}/`) || file === `${part}.ts`);
  return matches.sort((a, b) => b.length - a.length)[0];
}

/**
 * Says why `file` may not import `specifier`, or undefined when it may.
 *
 * @param {string} file Path from the project's root with forward slashes.
 * @param {string} specifier As written in the import.
 * @param {boolean} typeOnly Whether the import is of types alone.
 */
export function importProblem(file, specifier, typeOnly) {
  const part = partOf(file);
  if (part === undefined) return undefined;
  const rule = allowedEdges[part];
  if (!specifier.startsWith(".")) {
    const name = packageOf(specifier);
    const allowed = rule.packages.includes(name) || (typeOnly && rule.type?.includes(name));
    return allowed ? undefined : `${part} may not import the package "${specifier}".`;
  }
  const target = path.posix.normalize(path.posix.join(path.posix.dirname(file), specifier));
  if (target.endsWith(".json") || target.endsWith(".css")) return undefined;
  if (target.endsWith(".test.ts")) return `${file} may not import a test.`;
  const targetPart = partOf(target);
  if (targetPart === part || rule.parts.includes(targetPart)) return undefined;
  if (typeOnly && rule.type?.includes(targetPart)) return undefined;
  return `${part} may not import ${targetPart ?? target}.`;
}

/** "@scope/name/deep" is of the package "@scope/name"; every module of Node is of "node:". */
function packageOf(specifier) {
  if (specifier.startsWith("node:")) return "node:";
  const [first, second] = specifier.split("/");
  return first.startsWith("@") ? `${first}/${second}` : first;
}
