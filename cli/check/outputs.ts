import { writeAnswer } from "../../host/write-answer.ts";
import { WriteRefused } from "../../host/write-file.ts";
import { Failure } from "../failure.ts";
import { CHECK_FORMATS, IS_ANSWER, type CheckFormat } from "./formats.ts";

/** An answer that goes into a file. */
export interface Output {
  readonly format: CheckFormat;
  readonly path: string;
}

/** Reads `FORMAT=FILE`. Throws `Failure` for any other text. */
export function readOutput(written: string): Output {
  const at = written.indexOf("=");
  const format = CHECK_FORMATS.find((each) => each === written.slice(0, at));
  const path = written.slice(at + 1);
  if (format === undefined || path === "") {
    throw new Failure(`--out ${written}: write FORMAT=FILE, with a format of ${CHECK_FORMATS.join(", ")}`);
  }
  return { format, path };
}

/** Refuses two answers for one file: the second would take the place of the first. */
export function readOutputs(written: readonly string[]): Output[] {
  const outputs = written.map(readOutput);
  const twice = outputs.find(({ path }, i) => outputs.findIndex((other) => other.path === path) < i);
  if (twice) throw new Failure(`--out names ${twice.path} twice; give each format a file of its own`);
  return outputs;
}

/** Writes an answer, in the place of an older one at most. Throws `Failure` for what it may not replace. */
export function writeOutput({ format, path }: Output, content: string, force: boolean): void {
  written(() => writeAnswer({ path, content, isOurs: IS_ANSWER[format], force }));
}

/** What can't be written is why the command could not run. */
export function written(write: () => void): void {
  try {
    write();
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(error.message);
    throw error;
  }
}
