import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "../..");

/** Made by programs or installed; `pictures` are made by tests. */
const NOT_WRITTEN_HERE = new Set(["node_modules", "dist", ".cache", ".git", "out", "pictures"]);

/** Every file of the project with one of these endings, as paths from the root with forward slashes, sorted. */
export function projectFiles(...endings: string[]): string[] {
  const found: string[] = [];
  const visit = (folder: string): void => {
    for (const entry of readdirSync(path.join(root, folder), { withFileTypes: true })) {
      if (NOT_WRITTEN_HERE.has(entry.name)) continue;
      const file = folder === "" ? entry.name : `${folder}/${entry.name}`;
      if (entry.isDirectory()) visit(file);
      else if (endings.some((ending) => entry.name.endsWith(ending))) found.push(file);
    }
  };
  visit("");
  return found.sort();
}

export function readProjectFile(file: string): string {
  return readFileSync(path.join(root, file), "utf8");
}
