import assert from "node:assert/strict";
import { separationDistance } from "./separation.ts";

describe("separation of ISO 13855", () => {
  // Worked in the text of ISO 13855:2002 (as GOST ISO 13855-2006): 1600 · 0.1 + 850 = 1010 mm, 1600 · 0.335 + 850 = 1386 mm.
  for (const [stop, distance] of [
    [0.1, 1.01],
    [0.335, 1.386],
    [0, 0.85],
  ]) {
    it(`is ${distance} m for a stop in ${stop} s`, () => {
      assert.ok(Math.abs(separationDistance(stop) - distance) < 1e-12);
    });
  }
});
