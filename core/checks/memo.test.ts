import assert from "node:assert/strict";
import fc from "fast-check";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { createMemo } from "./memo.ts";
import { createSeen } from "./seen.ts";
import { sameData } from "../base/same-data.ts";

describe("memo of solved moves", () => {
  it("gives what was solved for an equal move of the same file only", () => {
    const memo = createMemo();
    const move = { title: "a", keys: [{ time: 0 }] } as unknown as ResolvedMove;
    const solved = { move, findings: [], seen: createSeen() };
    memo.keep("a.move.yaml", solved);
    assert.equal(memo.solved("a.move.yaml", structuredClone(move)), solved);
    assert.equal(memo.solved("b.move.yaml", move), undefined);
    assert.equal(memo.solved("a.move.yaml", { ...move, title: "b" }), undefined);
  });

  it("forgets the oldest of many", () => {
    const memo = createMemo();
    const move = (title: string): ResolvedMove => ({ title }) as ResolvedMove;
    for (let i = 0; i < 300; i++) memo.keep(`${i}`, { move: move(`${i}`), findings: [], seen: createSeen() });
    assert.equal(memo.solved("0", move("0")), undefined);
    assert.ok(memo.solved("299", move("299")));
  });

  it("compares data as a deep copy and as JSON do", () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (a, b) => {
        assert.ok(sameData(a, structuredClone(a)));
        const sorted = (value: unknown): string =>
          JSON.stringify(value, (_key, item: unknown) =>
            item !== null && typeof item === "object" && !Array.isArray(item)
              ? Object.fromEntries(Object.entries(item).sort(([x], [y]) => (x < y ? -1 : 1)))
              : item,
          );
        assert.equal(sameData(a, b), sorted(a) === sorted(b));
      }),
      { seed: 7, numRuns: 500 },
    );
    assert.ok(sameData({ a: NaN }, { a: NaN }) && !sameData({ a: 1 }, { a: 1, b: undefined }));
  });
});
