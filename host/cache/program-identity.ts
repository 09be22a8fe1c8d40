import { readFileSync } from "node:fs";
import { dirname, join, sep } from "node:path";
import { programScript } from "../pool/program-script.ts";
import { digestOf } from "./entry-name.ts";

/** The contents of the program's files as one sum; `undefined` where it runs from its sources, as in tests. */
export function programSum(files: readonly string[] = loadedFiles()): string | undefined {
  if (files.length === 0) return undefined;
  try {
    return digestOf(JSON.stringify(files.map((file) => digestOf(readFileSync(file)))));
  } catch {
    // The program was replaced while it runs.
    return undefined;
  }
}

/**
 * What tells this program from any other that could answer otherwise: its files, and what computes sines and
 * roots. `undefined` where it runs from its sources: nobody knows then which of them count.
 */
export function programIdentity(files?: readonly string[]): string | undefined {
  const sum = programSum(files);
  return sum && digestOf(JSON.stringify([sum, process.versions.v8, process.arch, process.platform]));
}

/** The files that the program was loaded from, which lie in folders beside each other; packages that it needs do not count. */
function loadedFiles(): readonly string[] {
  const script = programScript();
  if (script === undefined || typeof require !== "function") return [];
  const front = join(dirname(script), "..", sep);
  return Object.keys(require.cache).filter((file) => file.startsWith(front)).sort(); // prettier-ignore
}
