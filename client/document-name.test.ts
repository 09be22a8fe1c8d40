import assert from "node:assert/strict";
import { documentFileName, nameProblem } from "./document-name.ts";

const NAMES: readonly (readonly [written: string, file: string])[] = [
  ["vase", "vase.move.yaml"],
  [" vase ", "vase.move.yaml"],
  ["vase.json", "vase.move.json"],
  ["vase.move", "vase.move.yaml"],
  ["vase.move.yaml", "vase.move.yaml"],
  ["vase.MOVE.JSON", "vase.move.json"],
  ["vase.yml", "vase.move.yml"],
  ["a.rig", "a.rig.move.yaml"],
  ["grüne Vase 2.5", "grüne Vase 2.5.move.yaml"],
];

const PROBLEMS: readonly (readonly [written: string, problem: RegExp | undefined])[] = [
  ["", /such as over-the-lid/],
  ["   ", /such as/],
  [".json", /such as/],
  [".move.yaml", /such as/],
  ["a/b", /`\/`/],
  ["a\\b", /`\\`/],
  ["../a", /`\/`/],
  ["a:b", /`:`/],
  ["what?", /`\?`/],
  ["a\u0000b", /control character/],
  [".hidden", /dot or a space/],
  ["vase .move.yaml", /dot or a space/],
  ["CON", /device/],
  ["com1.take", /device/],
  ["console", undefined],
  ["x".repeat(231), /231 bytes/],
  ["ü".repeat(116), /232 bytes/],
  ["ü".repeat(115), undefined],
  ["lid to spout", undefined],
  ["茶壺", undefined],
];

describe("the name of a new document", () => {
  for (const [written, file] of NAMES) {
    it(`makes ${file} of "${written}"`, () => assert.equal(documentFileName(written, "move"), file));
  }
  for (const [written, problem] of PROBLEMS) {
    it(`${problem ? "refuses" : "takes"} ${JSON.stringify(written.slice(0, 20))}`, () => {
      const said = nameProblem(written, "move");
      if (problem) assert.match(said ?? "", problem);
      else assert.equal(said, undefined);
    });
  }
});
