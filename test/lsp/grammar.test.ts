import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { DIMENSIONS } from "../../core/base/unit-table.ts";

interface Pattern {
  readonly match: string;
  readonly name?: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
}

/** The patterns need nothing that regular expressions of the language lack, so they are tried here as they stand. */
function patternsOf(format: "yaml" | "json"): readonly Pattern[] {
  const file = new URL(`../../syntaxes/movewright-${format}.tmLanguage.json`, import.meta.url);
  return (JSON.parse(readFileSync(file, "utf8")) as { patterns: Pattern[] }).patterns;
}

/** `text scope` of everything that the patterns mark in one line, the last part of each scope's name left out. */
function marks(format: "yaml" | "json", line: string): string[] {
  return patternsOf(format).flatMap(({ match, name, captures }) =>
    [...line.matchAll(new RegExp(match, "gu"))].flatMap((found) => {
      const scopes = captures ? [1, 2].map((idx) => [found[idx], captures[idx].name]) : [[found[0], name ?? ""]];
      return scopes.map(([text, scope]) => `${text} ${scope.replace(/\.movewright$/, "")}`);
    }),
  );
}

const YAML: readonly (readonly [line: string, ...marks: string[]])[] = [
  ["move: 1", "move keyword.control"],
  ["keys:", "keys keyword.other.section"],
  ["  - at: 2.4 s", "2.4 constant.numeric", "s keyword.other.unit"],
  ["  - at: 60 f", "60 constant.numeric", "f keyword.other.unit"],
  ['  - at: "01:00:02:10"', "01:00:02:10 constant.numeric.timecode"],
  ["start: 01:00:00;00", "01:00:00;00 constant.numeric.timecode"],
  ["  limits: { speed: -12.5 deg/s }", "-12.5 constant.numeric", "deg/s keyword.other.unit"],
  ["  jerk: 3 m/s^3", "3 constant.numeric", "m/s^3 keyword.other.unit"],
  ["  - axis: dolly", "dolly variable.other"],
  ["    type: rotary", "rotary constant.language"],
  ["    aim: { at: lid, framing: [0.5, 0.5] }", "lid variable.other"],
  ["    aim: none", "none constant.language", "none variable.other"],
  ["    focus: lid # the knob", "lid variable.other"],
  ["speed: 50 %", "50 constant.numeric", "% keyword.other.unit"],
];

const JSON_LINES: readonly (readonly [line: string, ...marks: string[]])[] = [
  ['  "move": 1,', "move keyword.control"],
  ['  "keys": [', "keys keyword.other.section"],
  ['    { "at": "2.4 s", "focus": "lid" }', "2.4 constant.numeric", "s keyword.other.unit", "lid variable.other"],
  ['      "aim": { "at": "lid" }', "lid variable.other"],
  ['    "at": "00:00:02:10"', "00:00:02:10 constant.numeric.timecode"],
];

describe("the injected grammar", () => {
  for (const [line, ...expected] of YAML) {
    it(`marks YAML ${line.trim()}`, () => assert.deepEqual(marks("yaml", line), expected));
  }
  for (const [line, ...expected] of JSON_LINES) {
    it(`marks JSON ${line.trim()}`, () => assert.deepEqual(marks("json", line), expected));
  }

  it("leaves documents that are not ours alone", () => {
    for (const line of ["on: push", "runs-on: ubuntu-24.04", "image: node:20.1.2", "x: 10 mice", "time: 12:30:00"]) {
      assert.deepEqual(marks("yaml", line), [], line);
    }
  });

  it("knows every unit of the language", () => {
    for (const unit of Object.values(DIMENSIONS).flatMap(({ spellings }) => spellings)) {
      assert.deepEqual(marks("yaml", `x: 1 ${unit}`), ["1 constant.numeric", `${unit} keyword.other.unit`]);
    }
  });
});
