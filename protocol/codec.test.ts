import assert from "node:assert/strict";
import fc from "fast-check";
import type { Take } from "../core/motion/take.ts";
import { decodeBase64 } from "../core/base/base64.ts";
import { encodeBase64 } from "./base64.ts";
import { packBriefTake, packSmallTake, packTable, packTake, unpackTable, unpackTake } from "./codec.ts";

describe("base64", () => {
  it("gives the test vectors of RFC 4648, section 10", () => {
    const vectors = {
      "": "",
      f: "Zg==",
      fo: "Zm8=",
      foo: "Zm9v",
      foob: "Zm9vYg==",
      fooba: "Zm9vYmE=",
      foobar: "Zm9vYmFy",
    };
    for (const [plain, coded] of Object.entries(vectors)) {
      const bytes = new TextEncoder().encode(plain);
      assert.equal(encodeBase64(bytes), coded);
      assert.deepEqual(decodeBase64(coded), bytes);
    }
  });

  it("agrees with Node's own on any bytes", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 30_000 }), (bytes) => {
        const coded = encodeBase64(bytes);
        assert.equal(coded, Buffer.from(bytes).toString("base64"));
        assert.deepEqual(decodeBase64(coded), new Uint8Array(bytes));
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it("refuses what is not base64", () => {
    for (const bad of ["a", "ab=c", "====", "a*bc", "äbcd"]) assert.equal(decodeBase64(bad), undefined, bad);
  });
});

describe("the codec of takes", () => {
  it("keeps every bit of a double, and NaN and infinities", () => {
    fc.assert(
      fc.property(fc.float64Array({ maxLength: 200 }), (numbers) => {
        assert.deepEqual(unpackTable(packTable(numbers, "f64")), new Float64Array(numbers));
      }),
      { seed: 12, numRuns: 200 },
    );
  });

  it("is little-endian: 1 is 00 00 00 00 00 00 f0 3f (IEEE 754)", () => {
    const bytes = Buffer.from(packTable(Float64Array.of(1), "f64").data, "base64");
    assert.equal(bytes.toString("hex"), "000000000000f03f");
    assert.equal(Buffer.from(packTable(Float64Array.of(1), "f32").data, "base64").toString("hex"), "0000803f");
  });

  it("brings a take through JSON: exact where poses come from it, single precision elsewhere", () => {
    const table = (length: number, scale: number) =>
      Float64Array.from({ length }, (_, idx) => Math.sin(idx + 1) * scale);
    const take: Take = {
      count: 3,
      t: Float64Array.of(0, 0.04, 0.08),
      value: table(6, 3),
      speed: table(6, 0.2),
      accel: table(6, 2),
      jerk: table(6, 30),
      position: table(9, 2),
      rotation: table(12, 1),
      focal: table(3, 0.035),
      focus: Float64Array.of(1, Infinity, 2),
      share: table(3, 0.9),
      targets: table(9, 1),
      framing: Float64Array.of(0.5, NaN, 0.1, 0.2, NaN, 0.5),
      distance: table(3, 1),
    };
    const back = unpackTake(JSON.parse(JSON.stringify(packTake(take))));
    for (const name of [
      "t",
      "value",
      "position",
      "rotation",
      "focal",
      "focus",
      "targets",
      "framing",
      "distance",
    ] as const) {
      assert.deepEqual(back[name], take[name], name);
    }
    for (const name of ["speed", "accel", "jerk", "share"] as const) {
      assert.equal(back[name].length, take[name].length, name);
      take[name].forEach((value, idx) => assert.equal(back[name][idx], Math.fround(value)));
    }
    assert.equal(back.count, 3);

    const brief = unpackTake(JSON.parse(JSON.stringify(packBriefTake(take))));
    assert.deepEqual(brief.t, take.t);
    for (const name of ["value", "position", "framing", "jerk"] as const) {
      assert.deepEqual([...brief[name]], [...take[name]].map(Math.fround), name);
    }

    const small = unpackTake(JSON.parse(JSON.stringify(packSmallTake(take))));
    for (const [name, share] of [
      ["value", 2e-9],
      ["position", 2e-9],
      ["framing", 2e-9],
      ["jerk", 2e-6],
    ] as const) {
      const peak = Math.max(...take[name].filter(Number.isFinite).map(Math.abs));
      assert.equal(small[name].length, take[name].length, name);
      take[name].forEach((value, idx) => {
        if (Number.isNaN(value)) assert.ok(Number.isNaN(small[name][idx]), name);
        else assert.ok(Math.abs(small[name][idx] - value) <= peak * share, `${name} ${idx}`);
      });
    }
    assert.equal(small.focus[1], Infinity);
    assert.equal(small.wanted, undefined);
  });
});
