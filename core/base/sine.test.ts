import assert from "node:assert/strict";
import { seededRandom } from "./random.ts";
import { writeCosSin } from "./sine.ts";

describe("writeCosSin", () => {
  const pair = new Float64Array(2);

  it("agrees with the language's own sine and cosine to rounding, on turns of every size and at quarters of a turn", () => {
    const random = seededRandom(11);
    const angles = Array.from({ length: 20_000 }, (_, i) => (random() - 0.5) * 10 ** (i % 7));
    for (let quarter = -400; quarter <= 400; quarter++) {
      for (const beside of [0, 1e-17, -1e-9, 1e-5]) angles.push((quarter * Math.PI) / 2 + beside);
    }
    for (const angle of angles) {
      writeCosSin(angle, pair);
      assert.ok(Math.abs(pair[0] - Math.cos(angle)) <= 2.3e-16, `cos ${angle}`);
      assert.ok(Math.abs(pair[1] - Math.sin(angle)) <= 2.3e-16, `sin ${angle}`);
    }
  });

  it("keeps what is no angle, and huge ones, as the language has them", () => {
    for (const angle of [NaN, Infinity, -Infinity, 1e9, -1e300, 0]) {
      writeCosSin(angle, pair);
      assert.deepEqual([pair[0], pair[1]], [Math.cos(angle), Math.sin(angle)]);
    }
  });
});
