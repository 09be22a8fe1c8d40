import assert from "node:assert/strict";
import fc from "fast-check";
import { CONVERTED, conversionsOf, type Quantity } from "../../../core/edit/convert-unit.ts";
import { RATES } from "../../../core/base/rate.ts";
import { parseTime } from "../../../core/base/timecode.ts";
import { parseQuantity } from "../../../core/base/units.ts";
import { assertRewritten, offersAt, type Marked } from "../../../test/support/rewritten.ts";

const HEAD = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
start: "01:00:00:00"
`;

describe("converting the unit of a quantity", () => {
  /** The document with `before` at the cursor becomes the one with `after`. */
  const converts = async (file: string, text: string, unit: string, before: string, after: string): Promise<void> => {
    const marked: Marked = { file, text: text.replace("VALUE", `|${before}`) };
    await assertRewritten(
      marked,
      new RegExp(`^Convert to ${unit.replace("/", "\\/")}: `),
      text.replace("VALUE", after),
    );
  };
  const slide = `${HEAD}keys:\n  - at: 0 s\n    axes: { slide: VALUE, pan: 0, tilt: 0 } # stays\n`;
  const pan = slide.replace("slide: VALUE, pan: 0", "slide: 0, pan: VALUE");
  const time = `${HEAD}keys:\n  - { at: 0 s, axes: { slide: 0 }, aim: lid }\n  - at: VALUE # stays\r\n    axes: { slide: 0.1 }\n`;

  it("writes lengths and angles of axes in each unit, bare ones too", async () => {
    // The international foot is 0.3048 m, the inch 25.4 mm, both exact.
    await converts("m.move.yaml", slide, "mm", "0.35", "350 mm");
    await converts("m.move.yaml", slide, "m", "350 mm", "0.35 m");
    await converts("m.move.yaml", slide, "ft", "0.3048 m", "1 ft");
    await converts("m.move.yaml", slide, "in", "'254 mm'", "'10 in'");
    await converts("m.move.yaml", pan, "rad", "12 deg", "0.20943951 rad");
    await converts("m.move.yaml", pan, "deg", "0.20943951 rad", "12 deg");
    const text = `{ "move": 1, "rig": "slider.rig.yaml", "camera": { "use": "a.camera.yaml", "lens": "wide" }, "set": "table.set.yaml",
  "keys": [ { "at": 0, "axes": { "slide": VALUE, "pan": 0, "tilt": 0 } } ] }`;
    await converts("m.move.json", text, "mm", "0.35", '"350 mm"');
    await converts("m.move.json", text, "m", '"350 mm"', '"0.35 m"');
  });

  it("writes times in seconds, frames and timecode, and labels of the first frame", async () => {
    await converts("m.move.yaml", time, "frames", "2.4 s", "60 f");
    await converts("m.move.yaml", time, "timecode", "2.4", '"01:00:02:10"');
    await converts("m.move.yaml", time, "s", '"01:00:02:10"', '"2.4 s"');
    await converts("m.move.yaml", time, "frames", "01:00:02:10", "60 f");
    await converts("m.move.yaml", time.replace("at: VALUE", "after: VALUE"), "timecode", "60 f", '"00:00:02:10"');
    const { offers } = offersAt({ file: "m.move.yaml", text: time.replace("VALUE", "2.41 |s") });
    // It is on no frame.
    assert.deepEqual(
      offers.filter(({ id }) => id.startsWith("unit-")).map(({ title }) => title),
      ["Convert to ms: 2410 ms"],
    );
  });

  it("takes the parts of a point together, in a document of any kind", async () => {
    const set = (point: string): string => `set: 1\ntargets:\n  lid: { at: ${point} } # stays\n`;
    const marked = { file: "s.set.yaml", text: set("[2, |-350 mm, 1 ft]") };
    await assertRewritten(marked, /^Convert to cm: -35 cm$/, set("[200 cm, -35 cm, 30.48 cm]"));
    await assertRewritten(marked, /^Convert to m: -0.35 m$/, set("[2, -0.35 m, 0.3048 m]"));
  });

  it("knows limits of a rig by the axis, and leaves names, words and aliases alone", async () => {
    const rig = `rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1], limits: { speed: 0.5, accel: 1 } }
  - { axis: pan, type: rotary, range: [-90, 90], limits: { speed: VALUE, accel: 60 } }
head: { pan: pan, tilt: pan }
`;
    await converts("r.rig.yaml", rig, "rad/s", "90 deg/s", "1.570796327 rad/s");
    await converts("r.rig.yaml", rig.replace("VALUE", "1").replace("0.5", "VALUE"), "mm/s", "0.5", "500 mm/s");
    for (const cursor of ["ax|is: pan", "type: |rotary", "slide|: 0"]) {
      const text = `${rig.replace("VALUE", "1")}`.replace(cursor.replace("|", ""), cursor);
      if (text.includes("|")) assert.deepEqual(offersAt({ file: "r.rig.yaml", text }).offers, []);
    }
    const shared = slide.replace("VALUE", "&s |0.35").replace("tilt: 0", "tilt: 0 }, allow: [], setup: { x: *s");
    assert.deepEqual(
      offersAt({ file: "m.move.yaml", text: shared }).offers.filter(({ id }) => id.startsWith("unit-")),
      [],
    );
  });

  it("says the same to 1e-9 and comes back to the same decimals", () => {
    const quantities: Quantity[] = [
      { kind: "quantity", dimension: "length" },
      { kind: "quantity", dimension: "angle" },
      { kind: "quantity", dimension: "mass" },
      { kind: "quantity", dimension: "angle-accel" },
      ...Object.values(RATES).map((rate): Quantity => ({ kind: "time", rate, offset: 0 })),
    ];
    const read = (written: string | number, quantity: Quantity): number => {
      const parsed =
        quantity.kind === "time"
          ? parseTime(written, quantity.rate, quantity.offset)
          : parseQuantity(written, quantity.dimension);
      assert.ok(parsed.ok, `${written}`);
      return parsed.value;
    };
    fc.assert(
      fc.property(fc.constantFrom(...quantities), fc.integer({ min: -3e6, max: 3e6 }), (quantity, parts) => {
        const written = quantity.kind === "time" ? `${Math.abs(parts) % 1000} f` : parts / 1e5;
        for (const conversion of conversionsOf(written, quantity)) {
          const off = Math.abs(read(conversion.written, quantity) - read(written, quantity));
          assert.ok(off <= CONVERTED, `${written} as ${conversion.written}: ${off}`);
          if (quantity.kind === "time") continue;
          const bare = { length: "m", angle: "deg", mass: "kg", "angle-accel": "deg/s2" }[
            quantity.dimension as "length"
          ];
          const back = conversionsOf(conversion.written, quantity).find(({ unit }) => unit === bare);
          assert.equal(back?.written, `${written} ${bare}`);
        }
      }),
      { numRuns: 300, seed: 11 },
    );
  });
});
