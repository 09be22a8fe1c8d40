import assert from "node:assert/strict";
import { frameTime, RATES } from "../../core/base/rate.ts";
import { advance, clampTime, keyPassed, lastFrame, neighbourKey, stepTime } from "./timeline.ts";

const film = RATES["23.976"];
const pal = RATES["25"];

describe("the stage's timeline", () => {
  it("steps by whole frames of an odd rate", () => {
    // 23.976 is 24000/1001: frame 58 begins at 58 · 1001/24000 = 2.4190833 s.
    assert.equal(stepTime((57 * 1001) / 24000, 1, 10, film), (58 * 1001) / 24000);
    assert.ok(Math.abs(stepTime((57 * 1001) / 24000, 1, 10, film) - 2.4190833) < 1e-7);
    assert.equal(stepTime((58 * 1001) / 24000, -1, 10, film), (57 * 1001) / 24000);
  });

  it("from between two frames goes to the next, or back to the one that shows", () => {
    assert.equal(stepTime(1.01, 1, 10, pal), 1.04);
    assert.equal(stepTime(1.01, -1, 10, pal), 1);
    assert.equal(stepTime(1, -1, 10, pal), 0.96);
  });

  it("goes on every step to another frame, there and back, over whole moves", () => {
    for (const rate of Object.values(RATES)) {
      const duration = 7.3;
      const times = [0];
      while (times[times.length - 1] < duration) times.push(stepTime(times[times.length - 1], 1, duration, rate));
      const whole = duration - frameTime(rate, lastFrame(duration, rate)) < 1e-9;
      assert.equal(times.length - 1, lastFrame(duration, rate) + (whole ? 0 : 1));
      let t = duration;
      for (let i = times.length - 2; i >= 0; i--) {
        t = stepTime(t, -1, duration, rate);
        assert.equal(t, times[i]);
      }
    }
  });

  it("ends at the move's end, which may lie between frames, and begins at 0", () => {
    assert.equal(stepTime(2, 1, 2.01, pal), 2.01);
    assert.equal(stepTime(0, -1, 2, pal), 0);
    assert.equal(stepTime(1.9, 100, 2, pal), 2);
    assert.equal(clampTime(NaN, 3), 0);
    assert.equal(clampTime(Infinity, 3), 3);
  });

  it("plays on at its speed, stops at the end, or begins again", () => {
    assert.deepEqual(advance(1, 0.5, { speed: 2, duration: 10, loop: false }), { t: 2, ended: false });
    assert.deepEqual(advance(9.8, 0.5, { speed: 1, duration: 10, loop: false }), { t: 10, ended: true });
    const looped = advance(9.8, 0.5, { speed: 1, duration: 10, loop: true });
    assert.equal(looped.ended, false);
    assert.ok(Math.abs(looped.t - 0.3) < 1e-12);
    assert.deepEqual(advance(0, 1, { speed: 1, duration: 0, loop: true }), { t: 0, ended: true });
  });

  it("finds the key passed and the neighbours", () => {
    const keys = [0, 2.4, 4];
    assert.equal(keyPassed(2.4, keys), 1);
    assert.equal(keyPassed(2.39, keys), 0);
    assert.equal(neighbourKey(2.4, keys, "next"), 2);
    assert.equal(neighbourKey(2.4, keys, "previous"), 0);
    assert.equal(neighbourKey(4, keys, "next"), -1);
    assert.equal(neighbourKey(0, keys, "previous"), -1);
  });
});
