import assert from "node:assert/strict";
import fc from "fast-check";
import { isFiniteData } from "./finite-data.ts";

/** JSON knows no -0, and nobody tells it from 0. */
const ANY_NUMBER = fc.double().map((number) => (number === 0 ? 0 : number));

describe("plain data that JSON leaves as it is", () => {
  it("comes back from JSON as it went", () => {
    fc.assert(
      fc.property(
        fc.anything({ withSparseArray: false, values: [ANY_NUMBER, fc.string(), fc.constant(null)] }),
        (value) => {
          const back: unknown = JSON.parse(JSON.stringify([value]));
          if (isFiniteData(value)) assert.deepEqual(back, [value]);
          else assert.notDeepEqual(back, [value]);
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });

  it("holds no infinite number and no NaN, however deep", () => {
    for (const number of [Infinity, -Infinity, NaN]) {
      for (const value of [number, [1, number], { a: { b: [number] } }]) assert.equal(isFiniteData(value), false);
    }
  });
});
