import assert from "node:assert/strict";
import { probeCursor } from "./cursor-probe.ts";

/** `$0` is the cursor. Gives `role path` such as `name keys/0/axes`, with the word. */
function probe(marked: string, format: "yaml" | "json" = "yaml"): string {
  const offset = marked.indexOf("$0");
  const cursor = probeCursor(marked.replace("$0", ""), format, offset);
  if (!cursor) return "nothing";
  const word = marked.replace("$0", "").slice(cursor.word.start, cursor.word.end);
  return `${cursor.role} ${cursor.path.join("/")} [${word}]`;
}

const YAML: readonly (readonly [name: string, text: string, expected: string])[] = [
  ["an empty document", "$0", "name  []"],
  ["the first letters of a field", "mo$0", "name  [mo]"],
  ["a field after others", "move: 1\nri$0\n", "name  [ri]"],
  ["an empty line between fields", "move: 1\n$0\nrate: 25\n", "name  []"],
  ["a value", "rate: 2$0\n", "value rate [2]"],
  ["a value not begun", "rate: $0\n", "value rate []"],
  ["right after the colon", "rate:$0\nset: a\n", "value rate []"],
  ["a field in a list item", "keys:\n  - at: 0 s\n    ai$0\n", "name keys/0 [ai]"],
  ["a field in a list item with more items", "keys:\n  - at: 0 s\n    ai$0\n  - at: 1 s\n", "name keys/0 [ai]"],
  ["a blank line in a list item", "keys:\n  - at: 0 s\n    $0\n  - at: 1 s\n", "name keys/0 []"],
  ["the first field of a new item", "keys:\n  - at: 0 s\n  - $0\n", "name keys/1 []"],
  ["a name in a flow map", "keys:\n  - axes: { do$0 }\n", "name keys/0/axes [do]"],
  ["a name after a comma", "keys:\n  - axes: { dolly: 1, $0 }\n", "name keys/0/axes []"],
  ["a flow map that is not closed", "keys:\n  - axes: { dolly: 1, sw$0\n  - at: 1 s\n", "name keys/0/axes [sw]"],
  ["a value in a flow map", "keys:\n  - aim: { at: li$0, framing: [0.5, 0.5] }\n", "value keys/0/aim/at [li]"],
  ["a value in an open flow map", "keys:\n  - aim: { at: $0\n    focus: lid\n", "value keys/0/aim/at []"],
  ["a nested map on its own lines", "keys:\n  - aim:\n      $0\n", "name keys/0/aim []"],
  ["a field whose colon is there", "keys:\n  - a$0: lid\n", "name keys/0 [a]"],
  ["a quoted value", 'rig: "../kit/$0"\n', "value rig [../kit/]"],
  ["a quoted value that is not closed", 'rig: "../ki$0\nset: a\n', "value rig [../ki]"],
  ["a path", "rig: ../kit/fl$0\n", "value rig [../kit/fl]"],
  ["an item of a flow list", "head: [pa$0]\n", "value head/0 [pa]"],
  ["text broken elsewhere", "set: [1,\nrate: {\nkeys:\n  - at: 0 s\n    fo$0", "name keys/0 [fo]"],
  ["CRLF lines", "move: 1\r\nkeys:\r\n  - at: 0 s\r\n    fo$0\r\n", "name keys/0 [fo]"],
];

const JSON_TABLE: readonly (readonly [name: string, text: string, expected: string])[] = [
  ["an empty map", "{$0}", "name  []"],
  ["a name begun", '{ "mo$0" }', "name  [mo]"],
  ["a name not closed", '{ "move": 1, "ra$0\n}', "name  [ra]"],
  ["a name after a comma", '{ "move": 1, $0 }', "name  []"],
  ["a name before another", '{ $0 "move": 1 }', "name  []"],
  ["a value not begun", '{ "rate": $0 }', "value rate []"],
  ["a value in quotes", '{ "rig": "../k$0" }', "value rig [../k]"],
  ["a value without a quote", '{ "rig": "../k$0\n}', "value rig [../k]"],
  ["a nested name", '{ "keys": [ { "axes": { "do$0" } } ] }', "name keys/0/axes [do]"],
  ["a nested value", '{ "keys": [ { "aim": { "at": "$0" } } ] }', "value keys/0/aim/at []"],
  ["a name whose colon is there", '{ "ri$0": "a" }', "name  [ri]"],
  ["a map that is not closed", '{ "keys": [ { "at": "0 s", "ai$0', "name keys/0 [ai]"],
];

describe("the cursor in YAML", () => {
  for (const [name, text, expected] of YAML) it(name, () => assert.equal(probe(text), expected));
});

describe("the cursor in JSON", () => {
  for (const [name, text, expected] of JSON_TABLE) it(name, () => assert.equal(probe(text, "json"), expected));
});
