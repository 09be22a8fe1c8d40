import assert from "node:assert/strict";
import path from "node:path";
import { projectFiles, readProjectFile } from "./project-files.ts";

const MAX_LINES = 500;
/** Files that may be longer, each with its reason. */
const LONGER: Readonly<Record<string, string>> = {};
const CODE = [".ts", ".mjs", ".cjs", ".js", ".css"];

describe("files of code", () => {
  const files = projectFiles(...CODE);

  it(`have at most ${MAX_LINES} lines`, () => {
    const long = files.filter((file) => !(file in LONGER) && readProjectFile(file).split("\n").length > MAX_LINES);
    assert.deepEqual(long, []);
  });

  it("are listed as longer only while they are", () => {
    const short = Object.keys(LONGER).filter((file) => readProjectFile(file).split("\n").length <= MAX_LINES);
    assert.deepEqual(short, []);
  });

  it("are named in kebab-case for a thing or a step", () => {
    const odd = files.filter((file) => {
      const name = path.basename(file);
      return (
        !/^\.?[a-z0-9]+(-[a-z0-9]+)*(\.[a-z]+)+$/.test(name) ||
        /(^|-)(utils?|helpers?|managers?|misc|common)\./.test(name)
      );
    });
    assert.deepEqual(odd, []);
  });
});
