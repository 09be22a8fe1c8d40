import { matrixFromQuat, rotateByQuat } from "../../core/base/quat.ts";
import { add, type Vec3 } from "../../core/base/vec3.ts";
import type { Body, Solid } from "../../core/rig/resolved-rig.ts";
import { createMoment, momentAt, type Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import type { Bounds } from "./viewpoint.ts";

/** Instants of the take at which the rig is measured: enough to frame it, not a check of clearance. */
const INSTANTS = 24;
/** What is farther off than this does not widen the view [m]. */
const FAR = 100;

/** A box around all that the stage shows of a take, on the floor [m]. */
export function boundsOf(open: OpenTake): Bounds {
  const { stage, take } = open;
  const low = [Infinity, Infinity, stage.floor];
  const high = [-Infinity, -Infinity, stage.floor + 0.3];
  const include = (at: ArrayLike<number>, from = 0, half: readonly number[] = [0, 0, 0]): void => {
    for (let c = 0; c < 3; c++) {
      const part = at[from + c];
      if (!Number.isFinite(part) || Math.abs(part) > FAR) continue;
      low[c] = Math.min(low[c], part - half[c]);
      high[c] = Math.max(high[c], part + half[c]);
    }
  };
  include([stage.base.x, stage.base.y, stage.base.floor]);
  const bodies = stage.rig.bodies.map((body) => ({ link: body.link, corners: cornersOf(body) }));
  const corner = [0, 0, 0];
  const moment = createMoment(open);
  for (let i = 0; i < INSTANTS; i++) {
    momentAt(open, (stage.duration * i) / (INSTANTS - 1), moment);
    for (let link = 0; link < open.chain.count; link++) include(moment.pose.positions, 3 * link);
    for (const { link, corners } of bodies) {
      const [r, p] = link < 0 ? [open.base.rotation, open.base.position] : frameOf(moment, link);
      for (const [x, y, z] of corners) {
        for (let c = 0; c < 3; c++) corner[c] = r[3 * c] * x + r[3 * c + 1] * y + r[3 * c + 2] * z + p[c];
        include(corner);
      }
    }
    for (let target = 0; target < stage.targets.length; target++) include(moment.targets, 3 * target);
  }
  for (let i = 0; i < take.count; i++) include(take.position, 3 * i);
  for (const body of [...stage.obstacles, ...stage.people]) include(body.pose.at, 0, halfExtents(body));
  for (const mark of stage.marks) include(mark.at);
  for (let c = 0; c < 3; c++) {
    if (low[c] > high[c]) [low[c], high[c]] = [0, 1];
  }
  return { low: low as unknown as Vec3, high: high as unknown as Vec3 };
}

function frameOf(moment: Moment, link: number): readonly [Float64Array, Float64Array] {
  const { rotations, positions } = moment.pose;
  return [rotations.subarray(9 * link, 9 * link + 9), positions.subarray(3 * link, 3 * link + 3)];
}

/** Corners of the box that holds a body, in the frame of its link [m]. */
function cornersOf(body: Body): readonly Vec3[] {
  const half = ownHalves(body.solid);
  return [0, 1, 2, 3, 4, 5, 6, 7].map((bits) => {
    const own = [0, 1, 2].map((k) => ((bits >> k) & 1 ? half[k] : -half[k])) as unknown as Vec3;
    return add(rotateByQuat(body.pose.turn, own), body.pose.at);
  });
}

/** Half the sides of a box along the set's axes that holds the body [m]: sum over its own axes of |R| · half side. */
function halfExtents(body: Body): readonly number[] {
  const r = new Float64Array(9);
  matrixFromQuat(body.pose.turn, r);
  const half = ownHalves(body.solid);
  return [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, c) => sum + Math.abs(r[3 * k + c]) * half[c], 0));
}

function ownHalves(solid: Solid): readonly number[] {
  switch (solid.shape) {
    case "box":
      return solid.size.map((side) => side / 2);
    case "cylinder":
    case "capsule":
      return [solid.radius, solid.radius, solid.height / 2];
    case "sphere":
      return [solid.radius, solid.radius, solid.radius];
    case "mesh":
      return [0, 0, 0];
  }
}
