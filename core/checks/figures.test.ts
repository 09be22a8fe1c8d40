import assert from "node:assert/strict";
import { comparedFigures, excess, percent, seconds, secondsUp } from "./figures.ts";

const DEG = Math.PI / 180;

describe("figures of messages", () => {
  it("gives digits enough to see that value and limit differ", () => {
    assert.deepEqual(comparedFigures(34.24 * DEG, 30 * DEG, "angle-speed"), ["34.2 deg/s", "30 deg/s"]);
    assert.deepEqual(comparedFigures(30.0004 * DEG, 30 * DEG, "angle-speed"), ["30.0004 deg/s", "30 deg/s"]);
    assert.deepEqual(comparedFigures(0.02314, 0.02, "length-speed"), ["0.0231 m/s", "0.02 m/s"]);
    assert.deepEqual(comparedFigures(3.2, 3, "length"), ["3.2 m", "3 m"]);
  });

  it("says by how much", () => {
    assert.equal(excess(34.2, 30), "14 % above its limit");
    assert.equal(excess(30.003, 30), "less than 0.1 % above its limit");
    assert.equal(excess(96, 30), "3.2 times its limit");
    assert.equal(percent(0.944), "94 %");
    assert.equal(percent(0.012), "1.2 %");
  });

  it("rounds what would be enough upwards", () => {
    assert.equal(seconds(2.8), "2.8 s");
    assert.equal(secondsUp(2.8001), "2.81 s");
    assert.equal(secondsUp(2.8), "2.8 s");
    assert.equal(secondsUp(0.3601), "0.361 s");
  });
});
