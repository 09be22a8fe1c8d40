import assert from "node:assert/strict";
import { DEG, joint, rigOf } from "../../test/support/rigs.ts";
import { runToEnd } from "../base/task.ts";
import { compileRig, ownFrame } from "./chain.ts";
import { reachableRegion, type ReachableRegion } from "./reachable-region.ts";
import type { ResolvedJoint, ResolvedRig } from "./resolved-rig.ts";

const range = (low: number, high: number): Pick<ResolvedJoint, "range"> => ({ range: { low, high } });
const MOUNT = { at: [0.5, 0, 0], turn: [0, 0, 0, 1] } as const;

function regionOf(rig: ResolvedRig, height?: number, standing: readonly number[] = []): ReachableRegion {
  const chain = compileRig(rig);
  const axes = [...chain.driven];
  const values = Float64Array.from(rig.joints, (_, i) => standing[i] ?? 0);
  return runToEnd(reachableRegion({ chain, base: ownFrame(), axes, standing: values, pupil: 0 }, height));
}

/** Area of all triangles [m²]; they lie in one plane. */
function areaOf({ triangles: t }: ReachableRegion): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 9) {
    sum += ((t[i + 3] - t[i]) * (t[i + 7] - t[i + 1]) - (t[i + 6] - t[i]) * (t[i + 4] - t[i + 1])) / 2;
  }
  return sum;
}

/** Volume inside a closed surface by the divergence theorem: the sum of a · (b × c) / 6 [m³]. */
function volumeOf({ triangles: t }: ReachableRegion): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 9) {
    sum += t[i] * (t[i + 4] * t[i + 8] - t[i + 5] * t[i + 7]);
    sum += t[i + 1] * (t[i + 5] * t[i + 6] - t[i + 3] * t[i + 8]);
    sum += t[i + 2] * (t[i + 3] * t[i + 7] - t[i + 4] * t[i + 6]);
  }
  return sum / 6;
}

const distances = ({ outline }: Pick<ReachableRegion, "outline">): number[] =>
  Array.from({ length: outline.length / 3 }, (_, i) => Math.hypot(outline[3 * i], outline[3 * i + 1]));

describe("the reachable region", function () {
  this.timeout(60_000);

  it("of two links in a plane is the ring between their difference and their sum", () => {
    const rig = rigOf([joint("a", "rotary", [0, 0, 1]), joint("b", "rotary", [0, 0, 1], [1, 0, 0])], { mount: MOUNT });
    const region = regionOf(rig, 0);
    assert.ok(Math.abs(areaOf(region) / (Math.PI * (1.5 ** 2 - 0.5 ** 2)) - 1) < 0.005, `${areaOf(region)} m²`);
    const radii = distances(region);
    assert.ok(radii.length > 100);
    for (const radius of radii) {
      assert.ok(Math.min(Math.abs(radius - 1.5), Math.abs(radius - 0.5)) < 0.3 * region.step, `edge at ${radius} m`);
    }
    assert.equal(region.open, false);
  });

  it("of two links in a plane ends where their ranges end", () => {
    // The elbow goes from 60 to 120 deg only: |r|² = 1 + 0.25 + cos(elbow). The shoulder turns by 90 deg.
    const rig = rigOf(
      [joint("a", "rotary", [0, 0, 1], [0, 0, 0], range(0, 90 * DEG)), joint("b", "rotary", [0, 0, 1], [1, 0, 0], range(60 * DEG, 120 * DEG))], // prettier-ignore
      { mount: MOUNT },
    );
    // Each place is reached by one elbow and one shoulder: the area is 90 deg times the integral of r dr.
    const wanted = ((Math.PI / 2) * (1.75 - 0.75)) / 2;
    const region = regionOf(rig, 0);
    assert.ok(Math.abs(areaOf(region) / wanted - 1) < 0.01, `${areaOf(region)} m², ${wanted} m²`);
  });

  it("of three slides is a box, at a height and as a whole, and open where one has no end", () => {
    const slides = [
      joint("x", "linear", [1, 0, 0], [0, 0, 0], range(-1, 2)),
      joint("y", "linear", [0, 1, 0], [0, 0, 0], range(0, 1.2)),
      joint("z", "linear", [0, 0, 1], [0, 0, 0], range(0.5, 1.5)),
    ];
    const section = regionOf(rigOf(slides), 1.1);
    assert.ok(Math.abs(areaOf(section) / 3.6 - 1) < 0.005, `${areaOf(section)} m²`);
    assert.equal(regionOf(rigOf(slides), 1.6).triangles.length, 0);
    const shell = regionOf(rigOf(slides));
    // Corners are rounded by a part of a step.
    assert.ok(Math.abs(volumeOf(shell) / 3.6 - 1) < 0.02, `${volumeOf(shell)} m³`);
    assert.equal(shell.open, false);
    const open = rigOf([joint("x", "linear", [1, 0, 0]), ...slides.slice(1)]);
    assert.equal(regionOf(open, 1.1).open, true);
  });

  it("of an arm that turns, lifts and reaches out is a hollow ball, turned outwards", () => {
    const rig = rigOf([
      joint("pan", "rotary", [0, 0, 1]),
      joint("lift", "rotary", [0, -1, 0], [0, 0, 0], range(-90 * DEG, 90 * DEG)),
      joint("reach", "linear", [1, 0, 0], [0, 0, 0], range(0.6, 1.4)),
    ]);
    const shell = regionOf(rig);
    const wanted = (4 / 3) * Math.PI * (1.4 ** 3 - 0.6 ** 3);
    assert.ok(Math.abs(volumeOf(shell) / wanted - 1) < 0.02, `${volumeOf(shell)} m³, ${wanted} m³`);
    const section = regionOf(rig, 0.5);
    const [outer, inner] = [1.4, 0.6].map((radius) => Math.sqrt(radius ** 2 - 0.25));
    const area = Math.PI * (outer ** 2 - inner ** 2);
    assert.ok(Math.abs(areaOf(section) / area - 1) < 0.01, `${areaOf(section)} m², ${area} m²`);
  });

  it("has what is set up before the take where it stands", () => {
    const column = joint("column", "linear", [0, 0, 1], [0, 0, 0], { role: "setup", range: { low: 0, high: 2 } });
    const rig = rigOf([column, joint("a", "rotary", [0, 0, 1]), joint("b", "rotary", [0, 0, 1], [1, 0, 0])], {
      mount: MOUNT,
    });
    assert.ok(areaOf(regionOf(rig, 1.2, [1.2])) > 6);
    assert.equal(regionOf(rig, 1.2, [0.7]).triangles.length, 0);
  });

  it("comes to an end for a rig without axes", () => {
    assert.equal(regionOf(rigOf([]), 0).triangles.length, 0);
  });
});
