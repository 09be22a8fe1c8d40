import assert from "node:assert/strict";
import { finding } from "../../test/fixtures/check-report.ts";
import { markKnownByBase, markKnownByList } from "./known-findings.ts";

const known = (findings: readonly { readonly known?: string }[]): (string | undefined)[] =>
  findings.map((one) => one.known);

describe("known findings", () => {
  it("are those of the same code about the same element, one for each that was there", () => {
    const found = [finding({ value: 2 }), finding(), finding({ code: "axis-jerk" }), finding({ element: "keys.end", time: undefined })]; // prettier-ignore
    assert.deepEqual(known(markKnownByBase(found, [finding()])), ["base", undefined, undefined, undefined]);
    assert.deepEqual(known(markKnownByBase(found, [])), [undefined, undefined, undefined, undefined]);
  });

  it("are new where they became more severe, or are allowed no longer", () => {
    const warned = finding({ severity: "warning" });
    assert.deepEqual(known(markKnownByBase([finding()], [warned])), [undefined]);
    assert.deepEqual(known(markKnownByBase([warned], [finding()])), ["base"]);
    const allowed = finding({ severity: "hint", allowed: "rehearsed" });
    assert.deepEqual(known(markKnownByBase([finding()], [allowed])), [undefined]);
  });

  it("are known where another key took their place in the same time, of the same axis, pass and bodies", () => {
    const moved = finding({ element: "keys.new.axes.slide" });
    assert.deepEqual(known(markKnownByBase([moved], [finding()])), ["base"]);
    for (const other of [
      { time: { from: 0.6, to: 0.9 } },
      { axis: "pan", element: "keys.new.axes.pan" },
      { pass: "tall", element: "keys.new.axes.slide (pass tall)" },
      { element: "keys.new (matte box, spout)" },
    ]) {
      assert.deepEqual(known(markKnownByBase([finding({ ...moved, ...other })], [finding()])), [undefined], JSON.stringify(other)); // prettier-ignore
    }
    const near = finding({ axis: undefined, element: "keys.top (matte box, spout)", code: "clearance" });
    assert.deepEqual(known(markKnownByBase([{ ...near, element: "keys.new (matte box, spout)" }], [near])), ["base"]);
    assert.deepEqual(known(markKnownByBase([{ ...near, element: "keys.new (matte box, lid)" }], [near])), [undefined]);
  });

  it("use up nothing of a list where they are allowed", () => {
    const list = new Map([["axis-speed keys.top.axes.slide", 1]]);
    const found = [finding({ allowed: "rehearsed" }), finding(), finding()];
    assert.deepEqual(known(markKnownByList(found, list)), [undefined, "baseline", undefined]);
    assert.deepEqual([...list.values()], [0]);
  });
});
