import assert from "node:assert/strict";
import fc from "fast-check";
import { packSteps, unpackSteps } from "./step-table.ts";

const back = (numbers: Float64Array, width: number, share: number): Float64Array => {
  const packed = packSteps(numbers, width, share);
  const read = unpackSteps(packed);
  assert.ok(read);
  return read;
};

describe("tables of steps", () => {
  it("gives each number within half a step of its column, and what is no number as it is", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 4 }),
        fc.array(fc.oneof(fc.double({ min: -1e9, max: 1e9 }), fc.constantFrom(NaN, Infinity, -Infinity)), {
          maxLength: 120,
        }),
        fc.constantFrom(2 ** -20, 2 ** -30, 2 ** -60),
        (width, list, share) => {
          const numbers = Float64Array.from(list.slice(0, list.length - (list.length % width)));
          const read = back(numbers, width, share);
          assert.equal(read.length, numbers.length);
          for (let column = 0; column < width; column++) {
            const own = numbers.filter((_, at) => at % width === column);
            const peak = Math.max(0, ...own.filter(Number.isFinite).map(Math.abs));
            own.forEach((value, row) => {
              const got = read[row * width + column];
              if (!Number.isFinite(value)) assert.ok(Object.is(got, value), `${got} is not ${value}`);
              else assert.ok(Math.abs(got - value) <= (peak * Math.max(share, 2 ** -48)) / 2, `${got}, ${value}`);
            });
          }
        },
      ),
      { seed: 31, numRuns: 400 },
    );
  });

  it("is short for a smooth curve: less than two bytes a number at a billionth", () => {
    const curve = Float64Array.from({ length: 3600 }, (_, i) => 1.5 * Math.sin(i / 300) + 0.2 * Math.sin(i / 37));
    const { data } = packSteps(curve, 1, 2 ** -30);
    assert.ok((data.length * 3) / 4 < 2 * curve.length, `${(data.length * 3) / 4} bytes`);
    back(curve, 1, 2 ** -30).forEach((value, i) => assert.ok(Math.abs(value - curve[i]) < 1e-9));
  });

  it("spends a byte a number on what rests, and none on an empty table", () => {
    assert.equal(
      Buffer.from(packSteps(new Float64Array(500).fill(0.4), 1, 2 ** -30).data, "base64").length,
      3 + 5 + 499,
    );
    assert.equal(packSteps(new Float64Array(0), 0, 2 ** -30).data, "");
    assert.deepEqual(back(new Float64Array(0), 3, 2 ** -30), new Float64Array(0));
  });

  it("refuses what is cut short, goes on too long or is no base64", () => {
    const packed = packSteps(Float64Array.of(1, 2, 3, 4), 1, 2 ** -20);
    const bytes = Buffer.from(packed.data, "base64");
    const told = (data: Buffer) => unpackSteps({ ...packed, data: data.toString("base64") });
    assert.ok(told(bytes));
    assert.equal(told(bytes.subarray(0, -1)), undefined);
    assert.equal(told(Buffer.concat([bytes, Buffer.of(1)])), undefined);
    assert.equal(unpackSteps({ ...packed, data: "*" }), undefined);
  });
});
