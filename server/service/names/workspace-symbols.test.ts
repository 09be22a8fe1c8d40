import assert from "node:assert/strict";
import { workspaceSymbols } from "./workspace-symbols.ts";
import type { NamedDocument, WrittenName } from "./written-names.ts";

const SPAN = { start: 0, end: 1 };
const name = (kind: WrittenName["kind"], text: string): WrittenName => ({
  kind,
  role: "definition",
  name: text,
  span: SPAN,
});
const DOCUMENTS: readonly NamedDocument[] = [
  { file: "/w/b.rig.yaml", names: [name("axis", "pan"), name("axis", "lid lift")], references: [] },
  {
    file: "/w/over.move.yaml",
    names: [name("key", "lid"), name("key", "spout")],
    references: [],
    title: { text: "Lid to spout", span: SPAN },
  },
  { file: "/w/a.move.yaml", names: [], references: [], title: { text: "Spout to lid, 2×", span: SPAN } },
  { file: "/w/été.move.yaml", names: [], references: [], title: { text: "Été à l'étagère", span: SPAN } },
];

describe("workspace symbols", () => {
  for (const [query, ...names] of [
    ["move: lid to spout", "move: Lid to spout", "move: Spout to lid, 2×"],
    ["LID TO", "move: Lid to spout", "move: Spout to lid, 2×"],
    ["lid", "key: lid", "move: Lid to spout", "axis: lid lift", "move: Spout to lid, 2×"],
    ["spout lid", "move: Spout to lid, 2×", "move: Lid to spout"],
    ["over", "move: Lid to spout"],
    ["lts", "move: Lid to spout"],
    ["2×", "move: Spout to lid, 2×"],
    ["étag", "move: Été à l'étagère"],
    ["kiln"],
  ]) {
    it(`are found by \`${query}\`, the best first`, () => {
      const found = workspaceSymbols(DOCUMENTS, query).map((each) => each.name);
      assert.deepEqual(found, names);
    });
  }

  it("are all there without a query", () => {
    assert.equal(workspaceSymbols(DOCUMENTS, "").length, 8);
  });
});
