import { cpSync, mkdtempSync, realpathSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { root } from "./paths.ts";

/** Copies the demo to a folder of its own, named as a user would see it, so that tests may edit it. */
export function copyDemo(): { readonly folder: string; readonly remove: () => void } {
  // The editor shows real paths; a link on the way would make two names for one file.
  const parent = realpathSync(mkdtempSync(path.join(os.tmpdir(), "movewright-")));
  const folder = path.join(parent, "examples");
  cpSync(path.join(root, "examples"), folder, { recursive: true });
  return { folder, remove: () => rmSync(parent, { recursive: true, force: true }) };
}
