import assert from "node:assert/strict";
import { Matrix4, Quaternion, Vector3 } from "three";
import { seededRandom } from "../../../core/base/random.ts";
import { runToEnd } from "../../../core/base/task.ts";
import { planTrajectory } from "../../../core/motion/plan.ts";
import type { ResolvedMove } from "../../../core/motion/resolved-move.ts";
import { linkPlaces } from "../../../test/stage/independent.ts";
import { key, moveOf, topToFront } from "../../../test/stage/moves.ts";
import { takeOf } from "../../../test/stage/take-of.ts";
import { joint, rigOf } from "../../../test/support/rigs.ts";
import { openTake } from "../../take/open-take.ts";
import { sweptSpace, type SweptSpace } from "./swept-space.ts";

const sweep = (move: ResolvedMove, from = 0, to?: number): SweptSpace => {
  const open = openTake(takeOf(move));
  return runToEnd(sweptSpace(open, () => undefined, from, to ?? open.stage.duration));
};

/** How far a place is outside the nearest of the convex pieces, measured against the planes of their faces [m]. */
function outsideBy({ planes }: { planes: readonly Float64Array[] }, x: number, y: number, z: number): number {
  let least = Infinity;
  for (const faces of planes) {
    let most = -Infinity;
    for (let i = 0; i < faces.length && most < least; i += 4) {
      most = Math.max(most, faces[i] * x + faces[i + 1] * y + faces[i + 2] * z - faces[i + 3]);
    }
    least = Math.min(least, most);
  }
  return least;
}

function planesOf({ triangles, pieces }: SweptSpace): { planes: Float64Array[] } {
  const at = (i: number): Vector3 => new Vector3(triangles[i], triangles[i + 1], triangles[i + 2]);
  return {
    planes: pieces.map((first, n) => {
      const last = pieces[n + 1] ?? triangles.length / 9;
      const faces: number[] = [];
      for (let t = first; t < last; t++) {
        const normal = at(9 * t + 3)
          .sub(at(9 * t))
          .cross(at(9 * t + 6).sub(at(9 * t)));
        if (normal.length() < 1e-9) continue;
        normal.normalize();
        faces.push(normal.x, normal.y, normal.z, normal.dot(at(9 * t)));
      }
      return Float64Array.from(faces);
    }),
  };
}

describe("swept space", function () {
  this.timeout(120_000);

  it("of a plate that turns a quarter about an upright axis has the volume that Pappus gives it", () => {
    // Area 0.4 m · 0.3 m, its middle 1.2 m from the axis: V = area · radius · angle (Pappus and Guldin).
    const plate = { name: "plate", link: 0, solid: { shape: "box", size: [0.4, 0.002, 0.3] }, pose: { at: [1.2, 0, 0], turn: [0, 0, 0, 1] }, origin: 0 } as const; // prettier-ignore
    const rig = rigOf([joint("swing", "rotary", [0, 0, 1])], { bodies: [plate] });
    const swept = sweep(moveOf(rig, { keys: [key("a", 0, { 0: 0 }), key("b", 4, { 0: Math.PI / 2 })] }));
    assert.equal(swept.tolerance < 0.0065, true, `${swept.tolerance}`);
    const planes = planesOf(swept);
    const random = seededRandom(7);
    const count = 200_000;
    let hits = 0;
    // In a box about the quarter ring, away from the camera at the axis.
    for (let i = 0; i < count; i++) {
      const [x, y, z] = [1.6 * random() - 0.05, 1.6 * random() - 0.05, 0.4 * (random() - 0.5)];
      if (Math.hypot(x, y) > 0.8 && outsideBy(planes, x, y, z) <= 0) hits += 1;
    }
    const volume = (hits / count) * 1.6 * 1.6 * 0.4;
    const wanted = 0.4 * 0.3 * 1.2 * (Math.PI / 2);
    assert.ok(Math.abs(volume / wanted - 1) < 0.015, `${volume} m³, Pappus says ${wanted} m³`);
  });

  it("of a slide is the box that it goes through, in few pieces, however often it goes to and fro", () => {
    const block = { name: "block", link: 0, solid: { shape: "box", size: [0.2, 0.4, 0.6] }, pose: { at: [0, 0, 1], turn: [0, 0, 0, 1] }, origin: 0 } as const; // prettier-ignore
    const rig = rigOf([joint("slide", "linear", [1, 0, 0])], { bodies: [block] });
    const keys = [0, 1, -0.5, 0.7].map((value, i) => key(`k${i}`, 2 * i, { 0: value }, { stop: true }));
    const swept = sweep(moveOf(rig, { keys }));
    const planes = planesOf(swept);
    assert.ok(swept.pieces.length < 16, `${swept.pieces.length} pieces`);
    for (const [x, inside] of [
      [-0.61, false],
      [-0.59, true],
      [0.3, true],
      [1.09, true],
      [1.11, false],
    ] as const) {
      assert.equal(outsideBy(planes, x, 0.19, 1.29) <= 1e-6, inside, `at ${x} m`);
    }
  });

  it("holds every body at every instant within its tolerance, as three places them", () => {
    const [from, to] = [0.5, 6.2];
    const swept = sweep(topToFront, from, to);
    const planes = planesOf(swept);
    const trajectory = runToEnd(planTrajectory(topToFront));
    const instant = trajectory.createInstant();
    const random = seededRandom(3);
    let farthest = -Infinity;
    for (let i = 0; i < 160; i++) {
      trajectory.at(from + (to - from) * random(), instant);
      for (const body of topToFront.rig.bodies) {
        const point = pointIn(body.solid, random);
        point.applyMatrix4(new Matrix4().compose(new Vector3(...body.pose.at), new Quaternion(...body.pose.turn), new Vector3(1, 1, 1))); // prettier-ignore
        const joints = topToFront.rig.joints.slice(0, body.link + 1);
        const marker = { ...topToFront.rig.joints[0], name: "marker", type: "fixed" as const, role: "none" as const, origin: { at: point.toArray(), turn: [0, 0, 0, 1] as const } }; // prettier-ignore
        const places = linkPlaces({ ...topToFront, rig: { ...topToFront.rig, joints: [...joints, marker] } }, instant.value); // prettier-ignore
        const { x, y, z } = places[places.length - 1];
        farthest = Math.max(farthest, outsideBy(planes, x, y, z));
      }
    }
    assert.ok(farthest < swept.tolerance, `${farthest} m outside, ${swept.tolerance} m is said`);
    assert.ok(swept.tolerance <= 0.021, `${swept.tolerance}`);
    assert.ok(swept.triangles.length / 9 <= 240_000, `${swept.triangles.length / 9} triangles`);
  });
});

/** A point on the surface or inside of a solid: corners and rims often, since those come out first. */
function pointIn(solid: ResolvedMove["rig"]["bodies"][number]["solid"], random: () => number): Vector3 {
  const end = (): number => (random() < 0.5 ? -0.5 : 0.5);
  if (solid.shape === "box") return new Vector3(end(), end(), end()).multiply(new Vector3(...solid.size));
  assert.equal(solid.shape, "cylinder");
  const turn = 2 * Math.PI * random();
  const { radius, height } = solid as { radius: number; height: number };
  return new Vector3(radius * Math.cos(turn), radius * Math.sin(turn), end() * height);
}
