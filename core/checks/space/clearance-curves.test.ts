import assert from "node:assert/strict";
import { findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../../base/task.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { analyse } from "../analyse.ts";
import { clearanceCurves, type ClearanceCurve } from "./clearance-curves.ts";

const POST: Documents = {
  ...KIT,
  "post.set.yaml": `set: 1
obstacles:
  post: { cylinder: { radius: 0.02, height: 2 }, at: [0.15, 0, 1] }
  far: { sphere: { radius: 0.1 }, at: [4, 3, 1] }
people: { potter: { capsule: { radius: 0.2, height: 1.8 }, at: [-1.5, 0, 0.9] } }
`,
  "m.move.yaml": `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: post.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
`,
};

const trajectoryOf = (documents: Documents): Trajectory => {
  const { trajectory } = runToEnd(analyse("m.move.yaml", memorySources(new Map(Object.entries(documents)))));
  assert.ok(trajectory);
  return trajectory;
};
const evenly = (duration: number, count: number): number[] =>
  Array.from({ length: count + 1 }, (_, i) => (duration * i) / count);
const curvesOf = (trajectory: Trajectory, times: readonly number[]): Partial<Record<string, ClearanceCurve>> =>
  Object.fromEntries(
    runToEnd(clearanceCurves(trajectory, Float64Array.from(times))).map((curve) => [curve.to, curve] as const),
  );

describe("clearance over time", () => {
  it("is the distance of the camera's line from a post, a person and the floor, in closed form", () => {
    const trajectory = trajectoryOf(POST);
    const { set, people, floor, itself } = curvesOf(trajectory, evenly(4, 30));
    assert.ok(set && people && floor);
    // The slider has no bodies of its own: nothing of it can meet itself.
    assert.equal(itself, undefined);
    const instant = trajectory.createInstant();
    // The line goes along x from the sensor plane at -0.004 m to the pupil at 0.09 m, at a height of 1.2 m.
    const away = (x: number, radius: number, t: number): number => {
      trajectory.at(t, instant);
      return Math.hypot(x, instant.value[0]) - radius;
    };
    set.t.forEach((t, i) => assert.ok(Math.abs(set.distance[i] - away(0.15 - 0.09, 0.02, t)) < 1e-9));
    people.t.forEach((t, i) => assert.ok(Math.abs(people.distance[i] - away(1.5 - 0.004, 0.2, t)) < 1e-9));
    floor.distance.forEach((distance) => assert.ok(Math.abs(distance - 1.2) < 1e-9));
    assert.deepEqual(
      set.pairs.map(({ part, target }) => `${part}: ${target}`),
      ["the camera: post"],
    );
    assert.deepEqual([set.limit, people.limit, floor.limit], [0.05, 0.05, 0.05]);
  });

  it("is lowest where and as low as the finding says, between coarse instants too", () => {
    const [finding] = findingsOfCode(POST, "m.move.yaml", "clearance");
    assert.ok(finding?.peak !== undefined && finding.segment);
    const { set } = curvesOf(trajectoryOf(POST), evenly(4, 7));
    assert.ok(set);
    const lowest = Math.min(...set.distance);
    const { from, to } = finding.segment;
    const told = Math.hypot(...from.map((part, k) => part - to[k]));
    assert.ok(Math.abs(lowest - told) < 1e-6, `${lowest} is not ${told}`);
    assert.ok(Math.abs(set.t[set.distance.indexOf(lowest)] - finding.peak) < 0.01);
    for (let i = 1; i < set.t.length; i++) assert.ok(set.t[i - 1] <= set.t[i]);
  });

  it("goes below 0 where the camera goes through something, and tells what is nearest when", () => {
    const through = {
      ...POST,
      "post.set.yaml": `set: 1
obstacles:
  first: { cylinder: { radius: 0.02, height: 2 }, at: [0.05, -0.3, 1] }
  second: { cylinder: { radius: 0.02, height: 2 }, at: [0.15, 0.3, 1] }
`,
    };
    const { set } = curvesOf(trajectoryOf(through), evenly(4, 40));
    assert.ok(set);
    assert.ok(Math.min(...set.distance) < -0.015, `${Math.min(...set.distance)}`);
    const targets = [...set.nearest].map((idx) => set.pairs[idx].target);
    assert.deepEqual([targets[0], targets[targets.length - 1]], ["first", "second"]);
  });
});
