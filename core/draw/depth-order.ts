import { matrixFromQuat } from "../base/quat.ts";
import { dot, subtract, type Vec2, type Vec3 } from "../base/vec3.ts";
import { convexOf, type Convex } from "../solid/convex.ts";
import { createGap, measureGap } from "../solid/gap.ts";
import type { Eye } from "./eye.ts";
import type { PlacedSolid } from "./shot.ts";

/** A body with its outline on the page. */
export interface Outlined {
  readonly placed: PlacedSolid;
  readonly outline: readonly Vec2[];
}

/** Sine of an angle below which a plane between two bodies counts as seen from its edge. */
const EDGE_ON = 1e-6;

interface Ordered {
  readonly convex: Convex | undefined;
  readonly rotation: Float64Array;
  readonly position: Vec3;
  /** From the eye, to tell apart what nothing else does [m]. */
  readonly away: number;
  readonly box: readonly [number, number, number, number];
}

/**
 * Bodies in the order in which they are drawn, those behind first. Of two whose outlines may cover each other the one on
 * the eye's side of a plane between them is in front; where no order does for all, the farther ones come first.
 */
export function backToFront<T extends Outlined>(eye: Eye, bodies: readonly T[]): T[] {
  const all = bodies.map((one) => orderedOf(eye, one));
  const gap = createGap();
  /** Bodies that must be drawn before each, by index. */
  const before = bodies.map(() => new Set<number>());
  for (let i = 0; i < all.length; i++) {
    for (let j = i + 1; j < all.length; j++) {
      const [a, b] = [all[i], all[j]];
      if (!a.convex || !b.convex || !meet(a.box, b.box)) continue;
      measureGap(a.convex, a.rotation, a.position, b.convex, b.rotation, b.position, gap);
      const between = [0, 1, 2].map((k) => (gap.from[k] + gap.to[k]) / 2) as unknown as Vec3;
      const along = [gap.along[0], gap.along[1], gap.along[2]] as const;
      // The sine of how far the second body is on the far side of the plane between both, seen from the eye.
      const sight = eye.kind === "parallel" ? eye.ahead : subtract(between, eye.position);
      const side = dot(sight, along) / Math.hypot(...sight);
      // Seen along that plane neither covers the other.
      if (!(Math.abs(side) > EDGE_ON)) continue;
      if (side > 0) before[i].add(j);
      else before[j].add(i);
    }
  }
  const left = new Set(bodies.keys());
  const order: T[] = [];
  while (left.size > 0) {
    const free = [...left].filter((one) => [...before[one]].every((other) => !left.has(other)));
    const from = free.length > 0 ? free : [...left];
    const next = from.reduce((far, one) => (all[one].away > all[far].away ? one : far));
    left.delete(next);
    order.push(bodies[next]);
  }
  return order;
}

function orderedOf(eye: Eye, { placed, outline }: Outlined): Ordered {
  const { pose, solid } = placed;
  const rotation = new Float64Array(9);
  matrixFromQuat(pose.turn, rotation);
  const off = subtract(pose.at, eye.position);
  const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
  return {
    convex: convexOf(solid),
    rotation,
    position: pose.at,
    away: eye.kind === "parallel" ? dot(off, eye.ahead) : Math.hypot(...off),
    box: [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)],
  };
}

const meet = (a: Ordered["box"], b: Ordered["box"]): boolean =>
  a[0] <= b[1] && b[0] <= a[1] && a[2] <= b[3] && b[2] <= a[3];
