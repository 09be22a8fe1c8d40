import assert from "node:assert/strict";
import { projectFiles, readProjectFile } from "./project-files.ts";

const TEXT = [".ts", ".mjs", ".cjs", ".js", ".css", ".md", ".yaml", ".yml", ".json", ".html", "run"];

// Written in parts, so that this file doesn't find itself.
const homes = ["home", "root", "Users", "work", "tmp"].map((folder) => `/${folder}`).join("|");
const FORBIDDEN: readonly { readonly why: string; readonly pattern: RegExp }[] = [
  { why: "a path of somebody's machine", pattern: new RegExp(`(?<![\\w.}/)*-])(?:${homes})/[\\w.]{2,}/`) },
  {
    why: "left undone",
    pattern: new RegExp(`\\b(?:${["TO" + "DO", "FIX" + "ME", "X" + "XX", "HA" + "CK"].join("|")})\\b`),
  },
  { why: "the compiler silenced", pattern: new RegExp(`@ts-(?:${["ignore", "nocheck"].join("|")})`) },
  { why: "the linter silenced without a reason", pattern: new RegExp(`eslint-${"disable"}(?!.* -- \\S)`) },
  { why: "a test left out", pattern: new RegExp(`\\b(?:it|describe|context)\\.(?:${["skip", "only"].join("|")})\\(`) },
  { why: "an error swallowed", pattern: /catch\s*(?:\(\w+\)\s*)?\{\s*\}/ },
];

describe("text of the project", () => {
  const files = projectFiles(...TEXT).filter((file) => file !== "package-lock.json");

  for (const { why, pattern } of FORBIDDEN) {
    it(`holds nowhere: ${why}`, () => {
      const found = files.flatMap((file) =>
        readProjectFile(file)
          .split("\n")
          .flatMap((line, index) => (pattern.test(line) ? [`${file}:${index + 1}: ${line.trim().slice(0, 120)}`] : [])),
      );
      assert.deepEqual(found, []);
    });
  }

  it("is looked through", () => {
    assert.ok(files.length > 150, `only ${files.length} files were found`);
  });
});
