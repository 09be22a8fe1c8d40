import { convexOf, convexOfPoints, type Convex } from "../core/solid/convex.ts";
import { createGap, measureGap } from "../core/solid/gap.ts";
import { hullOf } from "../core/solid/hull.ts";
import { roundsPerSecond, type Figure } from "./measure.ts";

const MANY = 200;

interface Standing {
  readonly body: Convex;
  readonly rotation: Float64Array;
  readonly position: Float64Array;
}

/** Bodies of every kind in a set of 10 m, always the same ones. */
function manyBodies(count: number): Standing[] {
  let seed = 1;
  const next = (): number => (seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0) / 2 ** 32;
  const size = (): number => 0.1 + next();
  const cloud = Array.from({ length: 600 }, () => next() - 0.5);
  const hull = hullOf(cloud);
  const kinds: readonly (() => Convex | undefined)[] = [
    () => convexOf({ shape: "box", size: [size(), size(), size()] }),
    () => convexOf({ shape: "cylinder", radius: size() / 2, height: size() }),
    () => convexOf({ shape: "sphere", radius: size() / 2 }),
    () => convexOf({ shape: "capsule", radius: 0.1, height: 0.2 + size() }),
    () => convexOfPoints(hull.corners, hull.margin),
  ];
  return Array.from({ length: count }, (_, idx) => {
    const body = kinds[idx % kinds.length]();
    if (!body) throw new Error("a solid of the benchmark has no body");
    const [c, s] = [Math.cos(6 * idx), Math.sin(6 * idx)];
    const rotation = Float64Array.of(c, -s, 0, s, c, 0, 0, 0, 1);
    return { body, rotation, position: Float64Array.of(10 * next(), 10 * next(), 3 * next()) };
  });
}

/** Distances of pairs a second, of pairs that are near each other alone, all worked out to the end. */
export function benchPairs(): Figure {
  const bodies = manyBodies(MANY);
  const pairs = bodies.flatMap((a, i) =>
    bodies.slice(i + 1).flatMap((b) => {
      const away = Math.hypot(...a.position.map((value, k) => value - b.position[k]));
      return away < a.body.radius + b.body.radius + 0.3 ? [[a, b] as const] : [];
    }),
  );
  const gap = createGap();
  let over = 0;
  const rate = roundsPerSecond(() => {
    over = 0;
    for (const [a, b] of pairs) {
      measureGap(a.body, a.rotation, a.position, b.body, b.rotation, b.position, gap);
      if (gap.distance < 0) over += 1;
    }
    return pairs.length;
  });
  return {
    name: "distances of pairs that are near",
    value: rate.median,
    unit: "pairs/s",
    facts: { pairs: pairs.length, overlapping: over, worst: Math.round(rate.worst) },
  };
}
