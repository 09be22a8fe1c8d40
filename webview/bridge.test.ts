import assert from "node:assert/strict";
import fc from "fast-check";
import { smallTake } from "../test/stage/small-take.ts";
import { isToStage } from "./bridge.ts";

describe("messages to the stage", () => {
  it("are taken when they are ours", () => {
    assert.ok(isToStage({ type: "take", answer: { take: smallTake() } }));
    assert.ok(isToStage({ type: "take", answer: { problem: { uri: "a", version: 1, message: "m", findings: [] } } }));
    assert.ok(isToStage({ type: "playhead", time: 1.5, key: 2 }));
    assert.ok(isToStage({ type: "play", time: 0 }));
    assert.ok(isToStage({ type: "report", id: 1 }));
    assert.ok(isToStage({ type: "mesh", mesh: { file: "a.stl", data: "", stamp: "1" } }));
    assert.ok(isToStage({ type: "ghost", ghost: null }));
    assert.ok(isToStage({ type: "ghost", ghost: { label: "HEAD", take: smallTake(), notes: [] } }));
    assert.ok(!isToStage({ type: "ghost", ghost: { label: "HEAD", notes: [] } }));
    assert.ok(!isToStage({ type: "ghost" }));
    const series = { name: "passes", uri: "a", version: 1 };
    assert.ok(isToStage({ type: "series", series: { ...series, problem: "None." } }));
    assert.ok(isToStage({ type: "series", series: { ...series, lines: [] } }));
    assert.ok(!isToStage({ type: "series", series }));
    assert.ok(!isToStage({ type: "series", series: { ...series, name: "weather", lines: [] } }));
    const reach = { uri: "a", version: 1, wish: { kind: "shell" } };
    assert.ok(isToStage({ type: "reach", reach: { ...reach, problem: "None." } }));
    assert.ok(isToStage({ type: "reach", reach: { ...reach, triangles: {}, outline: {} } }));
    assert.ok(!isToStage({ type: "reach", reach }));
    assert.ok(isToStage({ type: "passes", passes: { uri: "a", version: 1, t: {}, passes: [] } }));
    assert.ok(!isToStage({ type: "passes", passes: { uri: "a", version: 1 } }));
  });

  it("are left alone when they are anybody else's", () => {
    fc.assert(
      fc.property(fc.anything(), (data) => {
        assert.equal(isToStage(data), false);
      }),
      { seed: 13, numRuns: 500 },
    );
    assert.ok(!isToStage({ type: "take", answer: { take: { uri: 4 } } }));
    assert.ok(!isToStage({ type: "playhead", time: NaN, key: 2 }));
    assert.ok(!isToStage({ type: "play", time: "0" }));
    assert.ok(!isToStage({ type: "mesh", mesh: ["a.stl"] }));
  });
});
