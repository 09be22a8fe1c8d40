import type { Vec3 } from "../../core/base/vec3.ts";
import type { Body, Solid } from "../../core/rig/resolved-rig.ts";
import { createMoment, momentAt } from "../take/moment.ts";
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
  const include = (at: ArrayLike<number>, from = 0, radius = 0): void => {
    for (let c = 0; c < 3; c++) {
      const part = at[from + c];
      if (!Number.isFinite(part) || Math.abs(part) > FAR) continue;
      low[c] = Math.min(low[c], part - radius);
      high[c] = Math.max(high[c], part + radius);
    }
  };
  include([stage.base.x, stage.base.y, stage.base.floor]);
  const moment = createMoment(open);
  for (let i = 0; i < INSTANTS; i++) {
    momentAt(open, (stage.duration * i) / (INSTANTS - 1), moment);
    for (let link = 0; link < open.chain.count; link++) include(moment.pose.positions, 3 * link);
    for (let target = 0; target < stage.targets.length; target++) include(moment.targets, 3 * target);
  }
  for (let i = 0; i < take.count; i++) include(take.position, 3 * i);
  for (const body of [...stage.obstacles, ...stage.people]) include(body.pose.at, 0, radiusOf(body));
  for (const mark of stage.marks) include(mark.at);
  for (let c = 0; c < 3; c++) {
    if (low[c] > high[c]) [low[c], high[c]] = [0, 1];
  }
  return { low: low as unknown as Vec3, high: high as unknown as Vec3 };
}

/** Radius of a ball around the body's centre that holds it; a wall's is cut, so that it does not shrink the rest. */
function radiusOf(body: Body): number {
  return Math.min(outerRadius(body.solid), 1.2);
}

function outerRadius(solid: Solid): number {
  switch (solid.shape) {
    case "box":
      return Math.max(...solid.size) / 2;
    case "cylinder":
    case "capsule":
      return Math.max(solid.radius, solid.height / 2);
    case "sphere":
      return solid.radius;
    case "mesh":
      return 0;
  }
}
