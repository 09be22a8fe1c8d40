import { matrixFromQuat, rotateByQuat } from "../../core/base/quat.ts";
import { add, type Vec3 } from "../../core/base/vec3.ts";
import type { Body, Solid } from "../../core/rig/resolved-rig.ts";
import { createMoment, momentAt, type Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { seenBodies, type ShapeOf } from "./solids.ts";
import type { Bounds } from "./viewpoint.ts";

/** Instants of the take at which the rig is measured: enough to frame it, not a check of clearance. */
const INSTANTS = 24;
/** What is farther off than this does not widen the view [m]. */
const FAR = 100;

/** How much of what stands around the action is shown with it [m]. */
const SURROUNDINGS = 0.3;

export interface TakeBounds {
  /** Around the rig over the whole take, its path and the targets, with what of the set stands close by. */
  readonly action: Bounds;
  /** Around everything. */
  readonly all: Bounds;
}

/** Boxes around what the stage shows of a take, from the floor up [m]. */
export function boundsOf(open: OpenTake, shapeOf: ShapeOf): TakeBounds {
  const { stage } = open;
  const action = growing([Infinity, Infinity, stage.floor], [-Infinity, -Infinity, stage.floor + 0.3]);
  includeMotion(open, action, shapeOf);
  const all = growing(action.low, action.high);
  for (const body of [...stage.obstacles, ...stage.people, ...(stage.dressing ?? [])]) {
    const half = halfExtents(body, shapeOf);
    const table = body.table === undefined ? undefined : stage.turntables[body.table];
    // On a turntable it may come round to any side.
    const reach = Math.hypot(...body.pose.at) + Math.hypot(...half);
    if (table) all.include(table.at, 0, [reach, reach, reach]);
    else all.include(body.pose.at, 0, half);
  }
  for (const mark of stage.marks) all.include(mark.at);
  const wide = growing(
    action.low.map((part, c) => Math.max(part - SURROUNDINGS, all.low[c])),
    action.high.map((part, c) => Math.min(part + SURROUNDINGS, all.high[c])),
  );
  return { action: wide.bounds(), all: all.bounds() };
}

interface Growing {
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** @param half Half the sides of a box around the point [m]. */
  include(at: ArrayLike<number>, from?: number, half?: readonly number[]): void;
  bounds(): Bounds;
}

function growing(fromLow: readonly number[], fromHigh: readonly number[]): Growing {
  const [low, high] = [[...fromLow], [...fromHigh]];
  return {
    low,
    high,
    include(at, from = 0, half = [0, 0, 0]) {
      for (let c = 0; c < 3; c++) {
        const part = at[from + c];
        if (!Number.isFinite(part) || Math.abs(part) > FAR) continue;
        low[c] = Math.min(low[c], part - half[c]);
        high[c] = Math.max(high[c], part + half[c]);
      }
    },
    bounds: () => ({ low: low as unknown as Vec3, high: high as unknown as Vec3 }),
  };
}

function includeMotion(open: OpenTake, box: Growing, shapeOf: ShapeOf): void {
  const { stage, take } = open;
  // The base may be said to stand as far off as one likes; the boxes are never empty.
  box.include([stage.base.x, stage.base.y, stage.base.floor].map((part) => Math.min(Math.max(part, -FAR), FAR)));
  const bodies = seenBodies(stage.rig.bodies).map((body) => ({ link: body.link, corners: cornersOf(body, shapeOf) }));
  const corner = [0, 0, 0];
  const moment = createMoment(open);
  for (let i = 0; i < INSTANTS; i++) {
    momentAt(open, (stage.duration * i) / (INSTANTS - 1), moment);
    for (let link = 0; link < open.chain.count; link++) box.include(moment.pose.positions, 3 * link);
    for (const { link, corners } of bodies) {
      const [r, p] = link < 0 ? [open.base.rotation, open.base.position] : frameOf(moment, link);
      for (const [x, y, z] of corners) {
        for (let c = 0; c < 3; c++) corner[c] = r[3 * c] * x + r[3 * c + 1] * y + r[3 * c + 2] * z + p[c];
        box.include(corner);
      }
    }
    for (let target = 0; target < stage.targets.length; target++) box.include(moment.targets, 3 * target);
  }
  for (let i = 0; i < take.count; i++) box.include(take.position, 3 * i);
}

function frameOf(moment: Moment, link: number): readonly [Float64Array, Float64Array] {
  const { rotations, positions } = moment.pose;
  return [rotations.subarray(9 * link, 9 * link + 9), positions.subarray(3 * link, 3 * link + 3)];
}

/** Corners of the box that holds a body, in the frame of its link [m]. */
function cornersOf(body: Body, shapeOf: ShapeOf): readonly Vec3[] {
  const half = ownHalves(body.solid, shapeOf);
  return [0, 1, 2, 3, 4, 5, 6, 7].map((bits) => {
    const own = [0, 1, 2].map((k) => ((bits >> k) & 1 ? half[k] : -half[k])) as unknown as Vec3;
    return add(rotateByQuat(body.pose.turn, own), body.pose.at);
  });
}

/** Half the sides of a box along the set's axes that holds the body [m]: sum over its own axes of |R| · half side. */
function halfExtents(body: Body, shapeOf: ShapeOf): readonly number[] {
  const r = new Float64Array(9);
  matrixFromQuat(body.pose.turn, r);
  const half = ownHalves(body.solid, shapeOf);
  return [0, 1, 2].map((k) => [0, 1, 2].reduce((sum, c) => sum + Math.abs(r[3 * k + c]) * half[c], 0));
}

/** Half the sides of a box about the body's own place that holds it. A mesh may lie on one side of its place alone. */
function ownHalves(solid: Solid, shapeOf: ShapeOf): readonly number[] {
  switch (solid.shape) {
    case "box":
      return solid.size.map((side) => side / 2);
    case "cylinder":
    case "capsule":
      return [solid.radius, solid.radius, solid.height / 2];
    case "sphere":
      return [solid.radius, solid.radius, solid.radius];
    case "mesh": {
      const faces = shapeOf(solid.file)?.faces;
      if (faces && !faces.boundingBox) faces.computeBoundingBox();
      const { min, max } = faces?.boundingBox ?? {};
      if (!min || !max) return [0, 0, 0];
      const far = [0, 1, 2].map((k) => Math.max(-min.getComponent(k), max.getComponent(k)));
      return far.map((reach, k) => Math.abs(reach * solid.scale[k]));
    }
  }
}
