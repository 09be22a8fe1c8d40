import assert from "node:assert/strict";
import { formatRate, frameAt, frameTime, nearestFrame, parseRate, RATES, type Rate } from "./rate.ts";
import { formatTimecode, framesPerDay, parseTime, parseTimecode } from "./timecode.ts";

const DROP = RATES["29.97df"];
const DROP_60 = RATES["59.94df"];

const frameOf = (label: string, rate: Rate): number => {
  const parsed = parseTimecode(label, rate);
  assert.ok(parsed.ok, JSON.stringify(parsed));
  return parsed.value;
};

// SMPTE ST 12-1 drop-frame counting; 17982 frames in 10 minutes and 108 labels left out an hour are published figures
// (dropframetimecode.org), the single labels were computed from the rule.
describe("drop-frame labels", () => {
  it("agree with the table of frames and labels at 29.97", () => {
    for (const [frame, label] of [
      [0, "00:00:00;00"],
      [1799, "00:00:59;29"],
      [1800, "00:01:00;02"],
      [3597, "00:01:59;29"],
      [3598, "00:02:00;02"],
      [17981, "00:09:59;29"],
      [17982, "00:10:00;00"],
      [19781, "00:10:59;29"],
      [19782, "00:11:00;02"],
      [107891, "00:59:59;29"],
      [107892, "01:00:00;00"],
      [2589407, "23:59:59;29"],
    ] as const) {
      assert.equal(formatTimecode(frame, DROP), label);
      assert.equal(frameOf(label, DROP), frame);
    }
  });

  it("agree at 59.94", () => {
    for (const [frame, label] of [
      [3599, "00:00:59;59"],
      [3600, "00:01:00;04"],
      [35964, "00:10:00;00"],
      [215784, "01:00:00;00"],
      [5178815, "23:59:59;59"],
    ] as const) {
      assert.equal(formatTimecode(frame, DROP_60), label);
      assert.equal(frameOf(label, DROP_60), frame);
    }
  });

  it("round-trip every one of the 2,589,408 labels of a day", () => {
    assert.equal(framesPerDay(DROP), 2_589_408);
    let wrong = 0;
    for (let frame = 0; frame < framesPerDay(DROP); frame++) {
      const parsed = parseTimecode(formatTimecode(frame, DROP), DROP);
      if (!parsed.ok || parsed.value !== frame) wrong += 1;
    }
    assert.equal(wrong, 0);
  });

  it("follow 01:04:59;29 by 01:05:00;02, a published pair", () => {
    assert.equal(formatTimecode(frameOf("01:04:59;29", DROP) + 1, DROP), "01:05:00;02");
  });

  it("last 599.9994 s for 10 minutes and 3599.9964 s for an hour", () => {
    assert.ok(Math.abs(frameTime(DROP, 17982) - 599.9994) < 1e-9);
    assert.ok(Math.abs(frameTime(DROP, 107892) - 3599.9964) < 1e-9);
  });

  it("that are dropped are refused with the next one as cure", () => {
    for (const [label, next] of [
      ["00:01:00;00", "00:01:00;02"],
      ["00:01:00;01", "00:01:00;02"],
      ["00:59:00;00", "00:59:00;02"],
    ]) {
      const parsed = parseTimecode(label, DROP);
      assert.ok(!parsed.ok && parsed.code === "bad-number" && parsed.cure === next, label);
    }
    assert.equal(frameOf("00:10:00;00", DROP), 17982);
  });

  it("want `;` at a drop rate and `:` at any other, with the right mark as cure", () => {
    const colon = parseTimecode("00:10:00:00", DROP);
    assert.ok(!colon.ok && colon.cure === "00:10:00;00");
    const semicolon = parseTimecode("00:00:02;10", RATES["23.976"]);
    assert.ok(!semicolon.ok && semicolon.cure === "00:00:02:10");
  });
});

describe("parseTimecode", () => {
  it("refuses what is out of the clock, and what is no label", () => {
    for (const label of ["24:00:00:00", "00:60:00:00", "00:00:60:00", "00:00:00:25"]) {
      const parsed = parseTimecode(label, RATES["25"]);
      assert.ok(!parsed.ok && parsed.code === "bad-number", label);
    }
    for (const label of ["1:2:3", "-00:00:01:00", "00:00:00:0x", "00:00:00:00:00"]) {
      const parsed = parseTimecode(label, RATES["25"]);
      assert.ok(!parsed.ok && parsed.code === "wrong-type", label);
    }
  });

  it("begins again after a day", () => {
    assert.equal(formatTimecode(framesPerDay(DROP), DROP), "00:00:00;00");
    assert.equal(formatTimecode(-1, RATES["25"]), "23:59:59:24");
  });
});

describe("parseTime", () => {
  it("reads seconds, frames and labels less the start", () => {
    const at25 = (text: number | string, start = 0) => parseTime(text, RATES["25"], start);
    assert.deepEqual(at25(2.4), { ok: true, value: 2.4 });
    assert.deepEqual(at25("2.4 s"), { ok: true, value: 2.4 });
    assert.deepEqual(at25("60 f"), { ok: true, value: 2.4 });
    assert.deepEqual(at25("01:00:02:10", 90_000), { ok: true, value: 2.4 });
  });

  it("counts 00:00:02:10 at 23.976 as frame 58, 58 x 1001 / 24000 s", () => {
    assert.deepEqual(parseTime("00:00:02:10", RATES["23.976"], 0), { ok: true, value: (58 * 1001) / 24000 });
  });

  it("refuses a length, and says what a time may be", () => {
    const parsed = parseTime("2 m", RATES["25"], 0);
    assert.ok(!parsed.ok && parsed.code === "wrong-unit" && parsed.message.includes("60 f"));
  });
});

describe("rates", () => {
  it("are exact rationals", () => {
    assert.deepEqual(parseRate("23.976"), { num: 24000, den: 1001, nominal: 24, drop: false });
    assert.deepEqual(parseRate("29.97df"), { num: 30000, den: 1001, nominal: 30, drop: true });
    assert.deepEqual(parseRate(59.94), { num: 60000, den: 1001, nominal: 60, drop: false });
    assert.deepEqual(parseRate("25 fps"), parseRate(25));
    for (const written of ["24.7", "0", "-25", "1001", "fast", "29.97 df", ""])
      assert.equal(parseRate(written), undefined);
  });

  it("have names that read back", () => {
    for (const rate of Object.values(RATES)) assert.deepEqual(parseRate(formatRate(rate)), rate);
  });

  it("tell the frame of every frame's own time, over a day", () => {
    for (const rate of Object.values(RATES)) {
      for (let frame = 0; frame < framesPerDay(rate); frame += 9973) {
        assert.equal(frameAt(rate, frameTime(rate, frame)), frame);
        assert.equal(nearestFrame(rate, frameTime(rate, frame)), frame);
        assert.equal(frameAt(rate, frameTime(rate, frame + 0.5)), frame);
      }
    }
  });
});
