import assert from "node:assert/strict";
import fc from "fast-check";
import { aimAt, moveOf, sliderRig, still } from "../../test/support/moves.ts";
import { limited, randomLimitedMove } from "../../test/support/limits.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { AxisLimits } from "../rig/resolved-rig.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { bindingByAxis, limitShares, neediest } from "./retime-shares.ts";
import { fitWhole, type WholeFit } from "./retime-whole.ts";

/** From rest to rest over `rise` in `time`. */
const restToRest = (rise: number, time: number, limits: AxisLimits): ResolvedMove =>
  limited(
    moveOf(sliderRig(), [
      { time: 0, axes: { slide: 0 } },
      { time, axes: { slide: rise } },
    ]),
    { slide: limits },
  );

const fitted = (move: ResolvedMove): WholeFit => {
  const fit = runToEnd(fitWhole(move));
  assert.equal(fit.status, "fitted", JSON.stringify(fit));
  return fit as WholeFit;
};

const greatest = (fit: WholeFit): number => Math.max(...fit.shares.map(({ share }) => share));

/** What rounding may make of a share that is 1. */
const ROUNDING = 1e-12;

describe("the whole move at its bound", () => {
  // Flash & Hogan, J. Neuroscience 5 (1985): x(t) = d (10 τ³ - 15 τ⁴ + 6 τ⁵), whose derivatives peak at 1.875 d/T,
  // 10/√3 d/T² = 5.7735 d/T² and 60 d/T³.
  const PEAKS = { speed: 1.875, accel: 10 / Math.sqrt(3), jerk: 60 } as const;

  for (const [name, order] of [
    ["speed", 1],
    ["accel", 2],
    ["jerk", 3],
  ] as const) {
    it(`takes the closed form of the ${name} of a least-jerk way, longer and shorter`, () => {
      for (const [rise, time, limit] of [
        [1, 2, 0.3],
        [-0.4, 3.7, 5],
        [0.02, 0.9, 0.04],
      ]) {
        const fit = fitted(restToRest(rise, time, { [name]: limit }));
        const best = ((PEAKS[name] * Math.abs(rise)) / limit) ** (1 / order);
        assert.ok(Math.abs(fit.factor * time - best) < 1e-9 * best, `${fit.factor * time} for ${best}`);
        assert.equal(fit.iterated, false);
        assert.ok(greatest(fit) <= 1 + ROUNDING && 1 - 1e-6 < greatest(fit));
      }
    });
  }

  it("takes the limit that asks for most, the others stay below", () => {
    const fit = fitted(restToRest(1, 1, { speed: 0.5, accel: 2, jerk: 10 }));
    // 1.875/0.5 = 3.75, √(5.7735/2) = 1.699, ∛(60/10) = 1.817.
    assert.ok(Math.abs(fit.factor - 3.75) < 1e-9);
    const [binding] = bindingByAxis(fit.shares);
    assert.equal(binding.order, 1);
    assert.ok(Math.abs(binding.t - 3.75 / 2) < 1e-6, "least-jerk speed peaks half-way");
  });

  it("scales holds and ramps with the ways", () => {
    const plain = restToRest(1, 2, { speed: 0.5 });
    const ease = { kind: "linear", ramp: 0.3 } as const;
    const [first, second] = plain.keys;
    const move = {
      ...plain,
      keys: [
        { ...first, hold: 1 },
        { ...second, time: 3, ease },
      ],
    };
    const scaled = fitted({ ...move, keys: [move.keys[0], { ...move.keys[1], ease: undefined }] });
    assert.ok(Math.abs(scaled.move.keys[0].hold! - scaled.factor) < 1e-12);
    const { keys } = fitted(move).move;
    const ramp = keys[1].ease?.kind === "linear" ? keys[1].ease.ramp : NaN;
    assert.ok(Math.abs(ramp / keys[1].time - 0.1) < 1e-12);
  });

  it("takes turntables into account", () => {
    const origins = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };
    const turntables = [
      { name: "plate", at: [2, 0, 1] as const, along: [0, 0, 1] as const, limits: { speed: 0.5 }, origins },
    ];
    const move = moveOf(
      sliderRig(),
      [
        { time: 0, axes: { slide: 0, plate: 0 } },
        { time: 2, axes: { slide: 0, plate: 2 } },
      ],
      { turntables },
    );
    assert.ok(Math.abs(fitted(move).factor - (1.875 * 2) / 2 / 0.5) < 1e-9);
  });

  it("finds by trials what keeps its own time, and says so", () => {
    // The pot walks by itself while the slide is still: only the aim follows it, and stretching the move changes nothing.
    const path = [
      { time: 0, to: [2, -0.5, 1] as const },
      { time: 2, to: [2, 0.5, 1] as const },
    ];
    const aimed = moveOf(
      sliderRig(),
      [
        { time: 0, axes: { slide: 0.4 }, aim: aimAt(0) },
        { time: 3, axes: { slide: -0.4 } },
      ],
      { targets: [{ ...still("pot", path[0].to), follow: path }] },
    );
    const fit = fitted(limited(aimed, { pan: { speed: 0.6 }, slide: { speed: 5 } }));
    assert.equal(fit.iterated, true);
    assert.ok(0.99 <= greatest(fit) && greatest(fit) <= 1 + ROUNDING);
    const broken = runToEnd(fitWhole(limited(aimed, { pan: { speed: 0.2 } })));
    assert.equal(broken.status, "not-by-time");
  });

  it("says what no time cures and invents no factor", () => {
    const move = moveOf(sliderRig(), [
      { time: 0, axes: { slide: 0 } },
      { time: 1, axes: { slide: 1 } },
    ]);
    assert.equal(runToEnd(fitWhole(move)).status, "no-limits");
    assert.equal(runToEnd(fitWhole(restToRest(0, 1, { speed: 1 }))).status, "still");
    // Straight over the target: the pan axis would have to jump.
    const over = moveOf(
      sliderRig({ mount: { at: [0, 0, 0], turn: [0, 0, 0, 1] } }),
      [
        { time: 0, axes: { slide: -0.5 }, aim: aimAt(0) },
        { time: 4, axes: { slide: 0.5 } },
      ],
      { targets: [still("below", [0, 0, 0.2])] },
    );
    const jump = runToEnd(fitWhole(limited(over, { pan: { speed: 0.5 } })));
    assert.equal(jump.status, "unbounded");
  });

  it("ends random moves with one share of 0.99 to 1 and none above", () => {
    let done = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), (seed) => {
        const move = randomLimitedMove(seed);
        const fit = runToEnd(fitWhole(move));
        if (fit.status !== "fitted") return;
        done += 1;
        const again = runToEnd(limitShares(runToEnd(planTrajectory(fit.move))));
        const worst = neediest(again)!;
        assert.ok(
          0.99 <= worst.share && again.every(({ share }) => share <= 1 + ROUNDING),
          `seed ${seed}: ${worst.share}`,
        );
      }),
      { numRuns: 25, seed: 11 },
    );
    assert.ok(18 < done, `${done} of 25 fitted`);
  });
});
