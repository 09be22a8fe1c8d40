import assert from "node:assert/strict";
import fc from "fast-check";
import { FRESH_STATE, readState, type KeptState } from "./state.ts";

describe("what the page keeps", () => {
  const full: KeptState = {
    uri: "file:///pottery/lid.move.yaml",
    time: 2.4,
    speed: 0.5,
    loop: true,
    panes: ["lens", "top"],
    spare: ["free", "free"],
    active: 1,
    viewpoints: [{}, { top: { centre: [1, 2, 3], azimuth: 0.1, elevation: 1.5, span: 4 } }, {}, {}],
    overlays: ["ranges", "swept"],
    tab: "values",
    axes: ["lift", "pan"],
    graphs: ["speed", "clearance"],
    window: { from: 1.5, to: 3 },
    key: 3,
    strip: 0.5,
  };

  it("comes back as it was", () => {
    assert.deepEqual(readState(JSON.parse(JSON.stringify(full))), full);
  });

  it("is fresh where there is none or it is not ours", () => {
    assert.deepEqual(readState(undefined), FRESH_STATE);
    assert.deepEqual(readState("text"), FRESH_STATE);
    const odd = { time: -1, speed: 3, panes: ["free", 7, "lens", "behind", "top"], strip: 9 };
    assert.deepEqual(
      readState({
        ...odd,
        active: 3,
        viewpoints: [{ top: { centre: [1, null], span: 0 } }],
        graphs: [7],
        axes: [null],
        window: { from: 3, to: 1 },
        tab: 1,
        key: 0.5,
      }),
      {
        ...FRESH_STATE,
        uri: undefined,
        window: undefined,
      },
    );
  });

  it("carries on from one stage and one lens view, which an older version knew", () => {
    const { top } = full.viewpoints[1];
    const older = (pictures: string): KeptState => readState({ side: "top", pictures, viewpoints: { top } });
    assert.deepEqual(older("both").panes, ["top", "lens"]);
    assert.deepEqual(older("stage").panes, ["top"]);
    assert.deepEqual(older("lens").panes, ["lens"]);
    assert.deepEqual(older("both").viewpoints, [{ top }, {}, {}, {}]);
    assert.deepEqual(older("both").spare, ["free", "side"]);
  });

  it("never throws and always answers with a whole state", () => {
    fc.assert(
      fc.property(fc.anything(), (kept) => {
        const state = readState(kept);
        assert.ok(
          state.graphs.length > 0 &&
            state.panes.length + state.spare.length === 4 &&
            Number.isFinite(state.time) &&
            state.speed > 0,
        );
      }),
      { seed: 12, numRuns: 500 },
    );
  });
});
