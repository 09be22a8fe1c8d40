import { chmodSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import path from "node:path";
import { build, type BuildOptions } from "esbuild";
import { bundles as listed } from "../../scripts/bundles.mjs";

const root = path.resolve(import.meta.dirname, "../..");
const SHIPPED = ["dist/cli/main.cjs", "dist/server/main-node.cjs"];

export interface InstalledProgram {
  /** The program's link. */
  readonly program: string;
  /** The server's bundle. */
  readonly server: string;
}

/** The command line and the server as npm lays them under `folder`: a package, and a link to its program elsewhere. */
export async function installProgram(folder: string): Promise<InstalledProgram> {
  const place = path.join(folder, "node_modules", "movewright");
  for (const { entry, out, options } of listed.filter((bundle) => SHIPPED.includes(bundle.out))) {
    const outfile = path.join(place, out);
    await build({ ...(options as BuildOptions), absWorkingDir: root, entryPoints: [entry], outfile });
  }
  writeFileSync(path.join(place, "package.json"), readFileSync(path.join(root, "package.json")));
  mkdirSync(path.join(folder, "bin"));
  const program = path.join(folder, "bin", "movewright");
  chmodSync(path.join(place, SHIPPED[0]), 0o755);
  symlinkSync(path.join(place, SHIPPED[0]), program);
  return { program, server: path.join(place, SHIPPED[1]) };
}
