import assert from "node:assert/strict";
import { readValue, roundAway, writeValue } from "./rounded-value.ts";

const DEG = Math.PI / 180;

/** What stands after a value was raised or lowered to at least `to` [SI]. */
function put(written: number | string, dimension: "length" | "angle" | "number", to: number): string {
  const read = readValue(written, dimension);
  assert.ok(read);
  return writeValue(roundAway(to, to < read.value ? -1 : 1, read.style), read.style);
}

describe("values written in the notation that stands", () => {
  it("keep their unit, and are rounded away from what stood there: to 1 mm, 0.1 deg, a thousandth of a picture", () => {
    assert.equal(put(0.4, "length", 0.45201), "0.453");
    assert.equal(put("400 mm", "length", 0.45201), "453 mm");
    assert.equal(put("40cm", "length", 0.38799), "38.7cm");
    assert.equal(put("12 deg", "angle", 14.12 * DEG), "14.2 deg");
    assert.equal(put(-12, "angle", -14.12 * DEG), "-14.2");
    assert.equal(put(0.5, "number", 0.4421), "0.442");
    assert.equal(put("50 %", "number", 0.44215), "44.2 %");
  });

  it("stand as they are where they are round already", () => {
    assert.equal(put("12 deg", "angle", 14.2 * DEG), "14.2 deg");
    assert.equal(put(0.4, "length", 0.453), "0.453");
    assert.equal(put(-0.4, "length", 0), "0");
  });

  it("are as fine in units of another size: 1 ft is 304.8 mm, 1 in is 25.4 mm (exact since 1959)", () => {
    assert.equal(put("1 ft", "length", 0.3251), "1.067 ft");
    assert.equal(put("1 in", "length", 0.0301), "1.19 in");
    assert.equal(put("0.2 rad", "angle", 0.2483), "0.249 rad");
  });

  it("are told from what is none", () => {
    assert.equal(readValue("none", "length"), undefined);
    assert.equal(readValue("12 deg", "length"), undefined);
    assert.equal(readValue(null, "angle"), undefined);
  });
});
