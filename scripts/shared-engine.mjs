// The engine and most of the server are in one file that a browser's worker and Node both load: two copies of it would be
// a third of the packed extension.
import { build } from "esbuild";
import { writeFile } from "node:fs/promises";
import path from "node:path";

const GLOBAL = "movewrightEngine";
/** Code of packages that is the same in both, and must be one: it knows its own errors by their class. */
const SHARED_PACKAGES = /^node_modules\/vscode-[^/]+\/lib\/common\//;

/**
 * Builds the worker's bundle so that it hands its modules to Node, and the program's bundle so that it takes them from there.
 *
 * @param {{ entry: string, out: string, options: object }} worker Holds all that is shared.
 * @param {{ entry: string, out: string, options: object }} program Loads it, from where it lies.
 * @param {object} common What esbuild is told for both.
 * @returns {Promise<object[]>} esbuild's results.
 */
export async function buildPair(worker, program, common) {
  const root = common.absWorkingDir;
  const alone = await build({
    ...worker.options,
    ...common,
    entryPoints: [worker.entry],
    outfile: worker.out,
    write: false,
  });
  const held = new Set(
    Object.keys(alone.metafile.inputs)
      .filter(isShared)
      .filter((file) => file !== worker.entry),
  );
  const wanted = new Set();
  const programResult = await build({
    ...program.options,
    ...common,
    entryPoints: [program.entry],
    outfile: program.out,
    plugins: [takeFrom(held, wanted, root, fromTo(program.out, worker.out)), ...program.options.plugins],
  });
  const workerResult = await build({
    ...worker.options,
    ...common,
    stdin: { contents: barrel(worker.entry, wanted), resolveDir: root, sourcefile: "barrel.ts", loader: "ts" },
    outfile: worker.out,
    globalName: GLOBAL,
    footer: { js: `if (typeof module === "object") module.exports = ${GLOBAL};` },
  });
  // A worker's script ends in .js, and beside it nothing says that it is no ECMAScript module.
  const note = path.posix.join(path.posix.dirname(worker.out), "package.json");
  const text = '{ "type": "commonjs" }\n';
  await writeFile(path.join(root, note), text);
  const noteResult = { metafile: { outputs: { [note]: { bytes: text.length, inputs: {} } } } };
  return [programResult, workerResult, noteResult];
}

const isShared = (file) => !file.startsWith("node_modules/") || SHARED_PACKAGES.test(file);

/** How one output asks for another. */
function fromTo(from, to) {
  const relative = path.posix.relative(path.posix.dirname(from), to);
  return relative.startsWith(".") ? relative : `./${relative}`;
}

/** Each module under its path. */
function barrel(entry, files) {
  const lines = [...files]
    .sort()
    .map((file) => `export * as ${JSON.stringify(file)} from ${JSON.stringify(`./${file}`)};`);
  return [`import ${JSON.stringify(`./${entry}`)};`, ...lines].join("\n");
}

/** Puts a look into the other file in the place of each module that it holds, and notes which they are. */
function takeFrom(held, wanted, root, file) {
  const namespace = "held-by-worker";
  return {
    name: "take-from-worker",
    setup(plugins) {
      plugins.onResolve({ filter: /./ }, async ({ path: asked, pluginData, ...from }) => {
        if (pluginData === namespace || from.kind === "entry-point" || from.namespace === namespace) return undefined;
        const found = await plugins.resolve(asked, { ...from, pluginData: namespace });
        if (found.errors.length > 0 || found.external || found.namespace !== "file") return undefined;
        const name = path.relative(root, found.path).split(path.sep).join("/");
        if (!held.has(name)) return undefined;
        wanted.add(name);
        return { path: name, namespace, sideEffects: false };
      });
      plugins.onResolve({ filter: /./, namespace }, ({ path: asked }) => ({ path: asked, external: true }));
      plugins.onLoad({ filter: /./, namespace }, ({ path: name }) => ({
        contents: `module.exports = require(${JSON.stringify(file)})[${JSON.stringify(name)}];`,
        loader: "js",
      }));
    },
  };
}
