import assert from "node:assert/strict";
import fc from "fast-check";
import type { Dimension } from "./dimension.ts";
import { DIMENSIONS } from "./unit-table.ts";
import { formatQuantity, MAX_MAGNITUDE, parseQuantity, parseRatio, toDisplay } from "./units.ts";

const value = (written: number | string, dimension: Dimension): number => {
  const parsed = parseQuantity(written, dimension);
  assert.ok(parsed.ok, JSON.stringify(parsed));
  return parsed.value;
};

const refusal = (written: number | string, dimension: Dimension): string => {
  const parsed = parseQuantity(written, dimension);
  assert.ok(!parsed.ok, `${written} was taken`);
  return parsed.code;
};

describe("parseQuantity", () => {
  it("reads every unit that the table names, bare numbers in the unit of their dimension", () => {
    for (const [written, dimension, si] of [
      [2, "length", 2],
      ["2", "length", 2],
      ["35 mm", "length", 0.035],
      ["4.5cm", "length", 0.045],
      ["-0.4 ft", "length", -0.12192],
      ["1 in", "length", 0.0254],
      [180, "angle", Math.PI],
      ["90°", "angle", Math.PI / 2],
      ["1 rad", "angle", 1],
      ["1.5 min", "time", 90],
      ["40 ms", "time", 0.04],
      ["850 g", "mass", 0.85],
      ["10 lb", "mass", 4.5359237],
      ["80 %", "share", 0.8],
      [0.8, "share", 0.8],
      ["1.5 px", "pixels", 1.5],
      ["14 W", "power", 14],
      ["150 Wh", "energy", 540_000],
      [150, "energy", 540_000],
      [".5 mm/s", "length-speed", 0.0005],
      ["2 m/s2", "length-accel", 2],
      ["2 m/s^2", "length-accel", 2],
      ["2 m/s²", "length-accel", 2],
      ["2 m/s/s", "length-accel", 2],
      ["1e2 mm/s3", "length-jerk", 0.1],
      ["12 deg/s", "angle-speed", Math.PI / 15],
      [180, "angle-accel", Math.PI],
      ["1.5 mm/m", "number", 0.0015],
      ["50 %", "number", 0.5],
    ] as const) {
      const found = value(written, dimension);
      assert.ok(Math.abs(found - si) <= 1e-15 * Math.abs(si), `${written}: ${found} is not ${si}`);
    }
  });

  it("gives decimal fractions of a metre as one would type them", () => {
    assert.equal(value("36 mm", "length"), 0.036);
    assert.equal(value("52 mm", "length"), 0.052);
    assert.equal(value("110 mm", "length"), 0.11);
  });

  it("refuses units of another dimension, units that are none, text, and numbers that are none", () => {
    assert.equal(refusal("44 s", "length"), "wrong-unit");
    assert.equal(refusal("3 deg", "length-speed"), "wrong-unit");
    assert.equal(refusal("3 m/s", "length-accel"), "wrong-unit");
    assert.equal(refusal("50 %", "length"), "wrong-unit");
    assert.equal(refusal("5 px", "share"), "wrong-unit");
    assert.equal(refusal("44 furlongs", "length"), "wrong-unit");
    assert.equal(refusal("44 M", "length"), "wrong-unit");
    assert.equal(refusal("lid", "length"), "wrong-type");
    assert.equal(refusal("", "length"), "wrong-type");
    assert.equal(refusal("0x10", "length"), "wrong-unit");
    for (const number of [NaN, Infinity, -Infinity, "1e400", `${MAX_MAGNITUDE * 2} m`]) {
      assert.equal(refusal(number, "length"), "bad-number");
    }
  });

  it("takes no more than a rig has to do with, and says how much that is", () => {
    // A thousand turns, a hundred kilometres, a time-lapse of days: in any unit, either way.
    for (const [taken, refused, dimension, most] of [
      ["-360000", "-360000.01", "angle", "360000 deg"],
      ["6283 rad", "6284 rad", "angle", "360000 deg"],
      ["1e5", "1.0001e5 m", "length", "100000 m"],
      ["1e8 mm", "1.1e8 mm", "length", "100000 m"],
      ["277 h", "278 h", "time", "1000000 s"],
    ] as const) {
      assert.equal(parseQuantity(taken, dimension).ok, true, taken);
      assert.deepEqual(parseQuantity(refused, dimension), {
        ok: false,
        code: "bad-number",
        message: `\`${refused}\` is larger than anything of a rig: ${most} at most`,
      });
    }
    assert.equal(refusal(`${MAX_MAGNITUDE * 2} kg`, "mass"), "bad-number");
  });

  it("names what is expected, and offers a point for a comma", () => {
    const parsed = parseQuantity("1,5 mm", "length");
    assert.deepEqual(parsed, {
      ok: false,
      code: "wrong-type",
      message: "`1,5 mm` has a comma; decimals take a point; a length (m, cm, mm, in or ft) is expected",
      cure: "1.5 mm",
    });
  });
});

describe("formatQuantity", () => {
  it("reads back as what it showed, within the digits that it shows", () => {
    const dimensions = Object.keys(DIMENSIONS) as Dimension[];
    fc.assert(
      fc.property(fc.constantFrom(...dimensions), fc.double({ min: -6e3, max: 6e3, noNaN: true }), (dimension, si) => {
        const text = formatQuantity(si, dimension);
        const back = value(text, dimension);
        // Shown to 0.1 mm, 0.01 deg, 1 ms, 0.1 %: half of the coarsest last digit is 0.05 px.
        const step = dimension === "pixels" ? 0.05 : dimension === "energy" ? 2 : 6e-4;
        assert.ok(Math.abs(back - si) <= step, `${si} ${dimension} shown as ${text}`);
      }),
      { seed: 11, numRuns: 2000 },
    );
  });

  it("shows short lengths in mm, no trailing zeros, no minus zero", () => {
    assert.equal(formatQuantity(0.0525, "length"), "52.5 mm");
    assert.equal(formatQuantity(1.2, "length"), "1.2 m");
    assert.equal(formatQuantity(Math.PI / 2, "angle"), "90 deg");
    assert.equal(formatQuantity(-1e-9, "angle"), "0 deg");
    assert.equal(formatQuantity(Infinity, "angle-speed"), "unbounded");
    assert.equal(toDisplay(0.25, "share"), 25);
  });
});

describe("parseRatio", () => {
  it("takes a bare number between like axes, and a unit of follower over leader between unlike ones", () => {
    assert.deepEqual(parseRatio(-1, "angle", "angle"), { ok: true, value: -1 });
    const unlike = parseRatio("2 deg/mm", "angle", "length");
    assert.ok(unlike.ok && Math.abs(unlike.value - (2 * Math.PI) / 180 / 1e-3) < 1e-12);
    for (const [written, follower, leader] of [
      [2, "angle", "length"],
      ["2 mm/deg", "angle", "length"],
      ["2 deg/mm", "angle", "angle"],
      ["2 deg", "angle", "length"],
    ] as const) {
      const parsed = parseRatio(written, follower, leader);
      assert.ok(!parsed.ok && parsed.code === "wrong-unit", String(written));
    }
  });
});
