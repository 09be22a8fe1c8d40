// Convex bodies for tests, with what an independent reader can tell of them: support and membership from their definitions.
import fc from "fast-check";
import { convexOf, convexOfPoints, type Convex } from "../../core/solid/convex.ts";

export type Triple = readonly [number, number, number];

/** A body with its own account of itself: how far it reaches along a unit vector, and how far a point is outside, at most. */
export interface TestBody {
  readonly name: string;
  readonly convex: Convex;
  /** Largest value of direction · point over the body, in its own frame. */
  reach(direction: Triple): number;
  /** Some points of the body: its corners, or points of its skin, `count` of them or about so many. */
  skin(count: number): Triple[];
}

export interface Placed {
  readonly body: TestBody;
  readonly rotation: readonly number[];
  readonly position: Triple;
}

const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export function boxBody(size: Triple): TestBody {
  const convex = convexOf({ shape: "box", size });
  if (!convex) throw new Error("A box is convex.");
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((bits): Triple => [
    ((bits & 1) - 0.5) * size[0],
    (((bits >> 1) & 1) - 0.5) * size[1],
    ((bits >> 2) - 0.5) * size[2],
  ]);
  return { name: "box", convex, reach: (d) => Math.max(...corners.map((at) => dot(d, at))), skin: () => corners };
}

export function cylinderBody(radius: number, height: number): TestBody {
  const convex = convexOf({ shape: "cylinder", radius, height });
  if (!convex) throw new Error("A cylinder is convex.");
  return {
    name: "cylinder",
    convex,
    reach: ([x, y, z]) => radius * Math.hypot(x, y) + (height / 2) * Math.abs(z),
    skin: (count) => rims(count, radius, height / 2),
  };
}

export function capsuleBody(radius: number, height: number): TestBody {
  const convex = convexOf({ shape: "capsule", radius, height });
  if (!convex) throw new Error("A capsule is convex.");
  const half = height / 2 - radius;
  return {
    name: "capsule",
    convex,
    reach: (d) => half * Math.abs(d[2]) + radius * Math.hypot(...d),
    skin: (count) => ball(count, radius).map(([x, y, z]) => [x, y, z + (z < 0 ? -half : half)]),
  };
}

export function sphereBody(radius: number): TestBody {
  const convex = convexOf({ shape: "sphere", radius });
  if (!convex) throw new Error("A sphere is convex.");
  return { name: "sphere", convex, reach: (d) => radius * Math.hypot(...d), skin: (count) => ball(count, radius) };
}

export function pointsBody(points: readonly Triple[]): TestBody {
  return {
    name: "points",
    convex: convexOfPoints(points.flat()),
    reach: (d) => Math.max(...points.map((at) => dot(d, at))),
    skin: () => [...points],
  };
}

function rims(count: number, radius: number, half: number): Triple[] {
  const around = Math.ceil(count / 2);
  return Array.from({ length: 2 * around }, (_, idx): Triple => {
    const angle = (Math.PI * idx) / around;
    return [radius * Math.cos(angle), radius * Math.sin(angle), idx % 2 === 0 ? half : -half];
  });
}

/** Points spread evenly over a ball by the golden angle. */
export function ball(count: number, radius: number): Triple[] {
  return Array.from({ length: count }, (_, idx): Triple => {
    const z = 1 - (2 * idx + 1) / count;
    const across = Math.sqrt(1 - z * z);
    const angle = idx * Math.PI * (3 - Math.sqrt(5));
    return [radius * across * Math.cos(angle), radius * across * Math.sin(angle), radius * z];
  });
}

/** Row-major rotation of a quaternion (x, y, z, w) of any length but 0. */
export function rotationOf(quat: readonly number[]): number[] {
  const size = Math.hypot(...quat);
  const [x, y, z, w] = quat.map((part) => part / size);
  return [
    ...[1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
    ...[2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
    ...[2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
  ];
}

export const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export const placedAt = (body: TestBody, position: Triple = [0, 0, 0], rotation = UPRIGHT): Placed => ({
  body,
  rotation,
  position,
});

/** A point of a placed body in the set. */
export function inSet({ rotation: r, position: p }: Placed, [x, y, z]: Triple): Triple {
  return [
    p[0] + r[0] * x + r[1] * y + r[2] * z,
    p[1] + r[3] * x + r[4] * y + r[5] * z,
    p[2] + r[6] * x + r[7] * y + r[8] * z,
  ];
}

/** How far a placed body reaches along a unit vector of the set. */
export function reachInSet({ body, rotation: r, position }: Placed, d: Triple): number {
  const own: Triple = [
    r[0] * d[0] + r[3] * d[1] + r[6] * d[2],
    r[1] * d[0] + r[4] * d[1] + r[7] * d[2],
    r[2] * d[0] + r[5] * d[1] + r[8] * d[2],
  ];
  return body.reach(own) + dot(position, d);
}

/** How far two bodies are apart along a unit vector, from the first to the second: below 0 by how far they overlap. */
export const apartAlong = (a: Placed, b: Placed, d: Triple): number =>
  -reachInSet(b, [-d[0], -d[1], -d[2]]) - reachInSet(a, d);

/** Numbers between two by their order of size. */
const scaled = (low: number, high: number): fc.Arbitrary<number> =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);

/** Bodies of every kind, with sizes between two. */
export function anyBody(low: number, high: number): fc.Arbitrary<TestBody> {
  const size = scaled(low, high);
  // In steps: nothing in a set is smaller than what a step of this stands for.
  const share = fc.integer({ min: -50_000, max: 50_000 }).map((steps) => steps / 100_000);
  const cloud = (flat: boolean): fc.Arbitrary<TestBody> =>
    fc
      .tuple(fc.tuple(size, size, size), fc.array(fc.tuple(share, share, share), { minLength: 1, maxLength: 24 }))
      .map(([s, all]) => pointsBody(all.map(([x, y, z]): Triple => [x * s[0], y * s[1], flat ? 0 : z * s[2]])));
  return fc.oneof(
    fc.tuple(size, size, size).map(boxBody),
    fc.tuple(size, size).map(([radius, height]) => cylinderBody(radius, height)),
    fc.tuple(size, size).map(([radius, barrel]) => capsuleBody(radius, 2 * radius + barrel)),
    size.map(sphereBody),
    cloud(false),
    cloud(true),
  );
}

/** Rotations, those in the axes' directions often. */
export const anyRotation: fc.Arbitrary<number[]> = fc
  .oneof(
    fc.constantFrom([0, 0, 0, 1], [1, 0, 0, 1], [0, 1, 0, 1], [0, 0, 1, 1], [1, 0, 0, 0]),
    fc.tuple(...[0, 1, 2, 3].map(() => fc.double({ min: -1, max: 1, noNaN: true }))),
  )
  .map((quat) => rotationOf(Math.hypot(...quat) < 0.1 ? [0, 0, 0, 1] : quat));

/** Two bodies placed near enough to each other to meet about as often as not, somewhere in a set. */
export function anyPair(low: number, high: number): fc.Arbitrary<readonly [Placed, Placed]> {
  const part = fc.integer({ min: -100_000, max: 100_000 }).map((steps) => steps / 100_000);
  return fc
    .tuple(
      anyBody(low, high),
      anyBody(low, high),
      anyRotation,
      anyRotation,
      fc.tuple(part, part, part),
      fc.tuple(part, part, part),
    ) // prettier-ignore
    .map(([a, b, ra, rb, at, off]) => {
      const span = a.convex.radius + b.convex.radius;
      const position: Triple = [5 * at[0], 5 * at[1], 5 * at[2]];
      const other: Triple = [position[0] + off[0] * span, position[1] + off[1] * span, position[2] + off[2] * span];
      return [placedAt(a, position, ra), placedAt(b, other, rb)] as const;
    });
}
