// Against the contacts of Rapier 0.21 (Apache-2.0), a physics engine in single precision with a prediction distance.
import assert from "node:assert/strict";
import * as rapier from "@dimforge/rapier3d-compat";
import fc from "fast-check";
import { anyBody, anyRotation, placedAt, type Placed, type Triple } from "../../test/support/solids.ts";
import { createGap, measureGap } from "./gap.ts";

/** Its cylinders and capsules stand along y: z is turned there. */
const UP: readonly number[] = [1, 0, 0, 0, 0, -1, 0, 1, 0];

function shapeOf({ body: { convex, name } }: Placed): rapier.Shape | undefined {
  const { x, y, z, rounding, points } = convex;
  if (name === "box") return new rapier.Cuboid(x, y, z);
  if (name === "cylinder") return new rapier.Cylinder(z, x);
  if (name === "capsule") return new rapier.Capsule(z, rounding);
  if (name === "sphere") return new rapier.Ball(rounding);
  // Hulls of fewer points, or flat ones, are none to it.
  const isFlat = points.every((value, idx) => idx % 3 !== 2 || value === 0);
  return points.length >= 15 && !isFlat ? new rapier.ConvexPolyhedron(Float32Array.from(points), null) : undefined;
}

function turnOf({ body, rotation: r }: Placed): rapier.Quaternion {
  const isUpright = body.name === "cylinder" || body.name === "capsule";
  const m = isUpright ? multiply(r, UP) : r;
  const w = Math.sqrt(Math.max(0, 1 + m[0] + m[4] + m[8])) / 2;
  if (w > 0.1) return { x: (m[7] - m[5]) / (4 * w), y: (m[2] - m[6]) / (4 * w), z: (m[3] - m[1]) / (4 * w), w };
  // Half a turn or nearly so: from the largest of the others.
  const parts = [0, 4, 8].map((k) => Math.sqrt(Math.max(0, 1 + 2 * m[k] - m[0] - m[4] - m[8])) / 2);
  const k = parts.indexOf(Math.max(...parts));
  const [i, j] = [(k + 1) % 3, (k + 2) % 3];
  const quat = [0, 0, 0, (m[3 * j + i] - m[3 * i + j]) / (4 * parts[k])];
  quat[k] = parts[k];
  quat[i] = (m[3 * i + k] + m[3 * k + i]) / (4 * parts[k]);
  quat[j] = (m[3 * j + k] + m[3 * k + j]) / (4 * parts[k]);
  const [x, y, z, last] = quat;
  return { x, y, z, w: last };
}

function multiply(a: readonly number[], b: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, at) => {
    const [row, col] = [3 * Math.floor(at / 3), at % 3];
    return a[row] * b[col] + a[row + 1] * b[col + 3] + a[row + 2] * b[col + 6];
  });
}

const vectorOf = ([x, y, z]: Triple): rapier.Vector => ({ x, y, z });

describe("gaps beside those of a physics library", () => {
  before(() => rapier.init());

  it("are the same to its precision for bodies of every kind, near, far and overlapping", () => {
    const part = fc.integer({ min: -1000, max: 1000 }).map((steps) => steps / 1000);
    const counts: Record<string, number> = {};
    let shallow = 0;
    const gap = createGap();
    fc.assert(
      fc.property(
        fc.tuple(anyBody(0.2, 1), anyBody(0.2, 1), anyRotation, anyRotation, fc.tuple(part, part, part)),
        ([first, second, ra, rb, [x, y, z]]) => {
          const span = first.convex.radius + second.convex.radius;
          const a = placedAt(first, [0.1, 0.2, 0.3], ra);
          const b = placedAt(second, [0.1 + x * span, 0.2 + y * span, 0.3 + z * span], rb);
          const [one, other] = [shapeOf(a), shapeOf(b)];
          if (!one || !other) return;
          const contact = one.contactShape(vectorOf(a.position), turnOf(a), other, vectorOf(b.position), turnOf(b), 10);
          if (!contact) return;
          measureGap(first.convex, ra, a.position, second.convex, rb, b.position, gap);
          const name = [first.name, second.name].sort().join(" ");
          counts[name] = (counts[name] ?? 0) + 1;
          const slack = 5e-3 * span;
          const message = `${name}: ${contact.distance} ${gap.distance}`;
          // Deep inside it may take another way out than the shortest: it finds none that is shorter.
          assert.ok(contact.distance < gap.distance + slack, message);
          if (gap.distance < -0.05 * span) return;
          shallow += 1;
          assert.ok(gap.distance < contact.distance + slack, message);
        },
      ),
      { seed: 51, numRuns: 2500, endOnFailure: true },
    );
    assert.equal(Object.keys(counts).length, 15, JSON.stringify(counts));
    assert.ok(shallow > 1000, `${shallow}`);
  });
});
