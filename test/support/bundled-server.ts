import { rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build, type BuildOptions } from "esbuild";
import { bundles } from "../../scripts/bundles.mjs";

const root = new URL("../../", import.meta.url);

/** By entry: bundled once a run of the tests. */
const made = new Map<string, Promise<string>>();

/**
 * A program of the server's, bundled as the product is: many servers are started, and a TypeScript loader takes seconds each time.
 *
 * @param entry Module from the project's root.
 * @returns File of the bundle, which goes with this process.
 */
export function bundledServer(entry: string): Promise<string> {
  const known = made.get(entry) ?? bundle(entry);
  made.set(entry, known);
  return known;
}

async function bundle(entry: string): Promise<string> {
  const name = entry.replaceAll(/\W+/g, "-");
  const outfile = fileURLToPath(new URL(`.cache/servers/${name}-${process.pid}.cjs`, root));
  const product = bundles.find(({ out }: { readonly out: string }) => out === "dist/cli/main.cjs");
  const { options } = product as { readonly options: BuildOptions };
  await build({ ...options, banner: {}, entryPoints: [fileURLToPath(new URL(entry, root))], outfile });
  process.on("exit", () => rmSync(outfile, { force: true }));
  return outfile;
}
