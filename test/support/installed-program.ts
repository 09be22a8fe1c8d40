import { chmodSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import path from "node:path";
import { build, type BuildOptions } from "esbuild";
import { bundles as listed } from "../../scripts/bundles.mjs";

const root = path.resolve(import.meta.dirname, "../..");
const SHIPPED = "dist/cli/main.cjs";

/** The program as npm lays it under `folder`, a package and a link to its program elsewhere. Gives the link. */
export async function installProgram(folder: string): Promise<string> {
  const place = path.join(folder, "node_modules", "movewright");
  for (const { entry, out, options } of listed.filter((bundle) => bundle.out === SHIPPED)) {
    const outfile = path.join(place, out);
    await build({ ...(options as BuildOptions), absWorkingDir: root, entryPoints: [entry], outfile });
  }
  writeFileSync(path.join(place, "package.json"), readFileSync(path.join(root, "package.json")));
  mkdirSync(path.join(folder, "bin"));
  const program = path.join(folder, "bin", "movewright");
  chmodSync(path.join(place, SHIPPED), 0o755);
  symlinkSync(path.join(place, SHIPPED), program);
  return program;
}
