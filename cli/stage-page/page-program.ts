import { readFileSync } from "node:fs";
import { join } from "node:path";
import { programPackage } from "../../host/program-package.ts";
import { Failure } from "../failure.ts";

/** The stage as it was built, to be put into a page. */
export interface PageProgram {
  readonly script: string;
  readonly style: string;
}

/** Reads the built stage that the running program ships with. Throws `Failure` when it is not there. */
export function pageProgram(): PageProgram {
  const folder = join(programPackage()?.folder ?? "", "dist", "webview");
  // A map of the sources is beside the file, not in the page.
  const read = (name: string): string =>
    readFileSync(join(folder, name), "utf8")
      .replace(/\r/g, "")
      .replace(/\n?(?:\/\/|\/\*)# sourceMappingURL=.*\s*$/, "\n");
  try {
    return { script: read("stage.js"), style: read("stage.css") };
  } catch {
    throw new Failure(`the stage is missing in ${folder}: build it, or install the program again`);
  }
}
