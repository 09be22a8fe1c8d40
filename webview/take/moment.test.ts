import assert from "node:assert/strict";
import { smallTake } from "../../test/stage/small-take.ts";
import { createMoment, momentAt } from "./moment.ts";
import { openTake } from "./open-take.ts";

describe("a moment of a take", () => {
  it("poses the rig between samples by values and speeds", () => {
    const open = openTake(smallTake());
    const moment = createMoment(open);
    momentAt(open, 0.5, moment);
    // The cubic with 0, 0.2 at its ends and slopes 0.1, 0.3 is at 0.1 + (0.1 - 0.3) / 8 in the middle.
    assert.ok(Math.abs(moment.values[0] - 0.075) < 1e-7, String(moment.values[0]));
    assert.ok(Math.abs(moment.pupil[1] - moment.values[0]) < 1e-12);
    assert.ok(Math.abs(moment.pupil[0] - 0.052) < 1e-12);
    assert.equal(moment.aimed, -1);
    assert.ok(Number.isNaN(moment.wanted[0]));
  });

  it("projects the targets through the lens: across = 0.5 - focal · Y / (X · width)", () => {
    const open = openTake(smallTake());
    const moment = createMoment(open);
    momentAt(open, 0, moment);
    assert.deepEqual([...moment.framing], [0.5, 0.5]);
    momentAt(open, 1, moment);
    // The camera has gone 0.2 m left, so the target is 0.2 m to the right of its axis, 1.948 m ahead.
    const across = 0.5 + (0.035 * 0.2) / (1.948 * 0.036);
    assert.ok(Math.abs(moment.framing[0] - across) < 1e-12);
    assert.ok(Math.abs(moment.distance[0] - Math.hypot(1.948, 0.2)) < 1e-12);
  });

  it("turns what stands on a turntable with it, exactly between samples too", () => {
    const take = smallTake();
    const plate = {
      name: "plate",
      at: [2, 0, 1],
      along: [0, 0, 1],
      limits: {},
      origins: take.axes[0].origins,
    } as const;
    const open = openTake({
      ...take,
      turntables: [plate],
      targets: [{ name: "spout", at: [0.2, 0, 0.1], on: 0, origin: 0 }],
      // The pan's column serves as the plate's: 0 at both samples, so set it by hand below.
      axes: [take.axes[0], { ...take.axes[1], role: "turntable", joint: -1, turntable: 0 }],
    });
    open.take.value[3] = Math.PI / 2;
    open.take.speed.fill(0);
    const moment = createMoment(open);
    momentAt(open, 0.5, moment);
    // Half way, at rest at both ends: 45 degrees.
    const c = Math.SQRT1_2;
    assert.ok(Math.abs(moment.targets[0] - (2 + 0.2 * c)) < 1e-12);
    assert.ok(Math.abs(moment.targets[1] - 0.2 * c) < 1e-12);
    assert.ok(Math.abs(moment.targets[2] - 1.1) < 1e-12);
  });

  it("keeps the aim over the gap of one sample between two spans", () => {
    const open = openTake(smallTake({ aims: [{ from: 0, to: 0, target: 0 }] }));
    const moment = createMoment(open);
    momentAt(open, 0.6, moment);
    assert.equal(moment.aimed, 0);
  });

  it("shows nothing that is no number", () => {
    const open = openTake(smallTake());
    open.take.value.fill(NaN);
    open.take.focal.fill(NaN);
    const moment = createMoment(open);
    momentAt(open, 0.3, moment);
    for (const list of [moment.values, moment.pose.positions, moment.pupil]) {
      assert.ok([...list].every(Number.isFinite));
    }
    assert.equal(moment.focal, 0.035);
  });
});
