import assert from "node:assert/strict";
import { ribbonShares } from "./ribbon-shares.ts";

describe("the ribbon of shares", () => {
  it("takes the highest of the samples in a column", () => {
    const shares = ribbonShares([0, 0.1, 0.6, 0.9], [0.2, 0.4, 0.3, 0.1], 1, 2);
    assert.deepEqual([...shares], [0.4, 0.3]);
  });

  it("holds the last sample where a column has none", () => {
    assert.deepEqual([...ribbonShares([0, 1], [0.5, 0.1], 1, 4)], [0.5, 0.5, 0.5, 0.1]);
  });

  it("shows rest as rest, however busy the way before it was", () => {
    const shares = ribbonShares([0, 1, 2, 3], [0.8, 0, 0, 0.4], 4, 4);
    assert.deepEqual([...shares], [0.8, 0, 0, 0.4]);
  });

  it("takes no share for none, and cuts off what is far above a limit", () => {
    assert.deepEqual([...ribbonShares([0, 0.5], [NaN, 40], 1, 2)], [0, 2]);
  });
});
