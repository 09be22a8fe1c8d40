import assert from "node:assert/strict";
import fc from "fast-check";
import {
  anyPair,
  apartAlong,
  ball,
  boxBody,
  capsuleBody,
  cylinderBody,
  inSet,
  placedAt,
  pointsBody,
  reachInSet,
  rotationOf,
  sphereBody,
  UPRIGHT,
  type Placed,
  type TestBody,
  type Triple,
} from "../../test/support/solids.ts";
import { createGap, measureGap, type Gap } from "./gap.ts";

const gapOf = (a: Placed, b: Placed, gap: Gap = createGap(), enough = Infinity): Gap => {
  measureGap(a.body.convex, a.rotation, a.position, b.body.convex, b.rotation, b.position, gap, enough);
  return gap;
};

const triple = (values: Float64Array): Triple => [values[0], values[1], values[2]];
/** What errors are measured in: how far any two points of the bodies can be from each other, about. */
const spanOf = (a: Placed, b: Placed): number =>
  a.body.convex.radius +
  b.body.convex.radius +
  Math.hypot(...[0, 1, 2].map((k) => a.position[k] - b.position[k])) +
  Math.hypot(...a.body.convex.centre) +
  Math.hypot(...b.body.convex.centre);
const between = (gap: Gap): number =>
  Math.hypot(gap.to[0] - gap.from[0], gap.to[1] - gap.from[1], gap.to[2] - gap.from[2]);

const DIRECTIONS = ball(200, 1);

/** How far a point is outside of a placed body, as far as its extent along many directions tells. */
const outside = (placed: Placed, point: Triple): number =>
  Math.max(...DIRECTIONS.map((d) => d[0] * point[0] + d[1] * point[1] + d[2] * point[2] - reachInSet(placed, d)));

/**
 * A distance proves itself: two points, one of each body, are no nearer than the bodies, and a direction along which the
 * bodies are so far apart says that they are no nearer than that.
 */
function assertProven(a: Placed, b: Placed, gap: Gap, slack: number): void {
  assert.ok(Math.abs(apartAlong(a, b, triple(gap.along)) - gap.distance) <= slack, "along");
  assert.ok(Math.abs(between(gap) - Math.abs(gap.distance)) <= slack, "between");
  assert.ok(outside(a, triple(gap.from)) <= slack, "from");
  assert.ok(outside(b, triple(gap.to)) <= slack, "to");
}

describe("the gap of two bodies", () => {
  it("proves itself for bodies of every kind, near, far and overlapping, between 5 cm and 2 m", () => {
    const seen = { apart: 0, over: 0 };
    const gap = createGap();
    fc.assert(
      fc.property(anyPair(0.05, 2), ([a, b]) => {
        gapOf(a, b, gap);
        seen[gap.distance >= 0 ? "apart" : "over"] += 1;
        assertProven(a, b, gap, (gap.distance >= 0 ? 2e-9 : 1e-6) * spanOf(a, b));
      }),
      { seed: 41, numRuns: 3000 },
    );
    assert.ok(seen.apart > 500 && seen.over > 500, JSON.stringify(seen));
  });

  it("is the same seen from the other body", () => {
    const [one, other] = [createGap(), createGap()];
    fc.assert(
      fc.property(anyPair(0.05, 2), ([a, b]) => {
        gapOf(a, b, one);
        gapOf(b, a, other);
        const slack = (one.distance < 0 ? 1e-6 : 2e-9) * spanOf(a, b);
        assert.ok(Math.abs(one.distance - other.distance) <= slack, `${one.distance} ${other.distance}`);
      }),
      { seed: 42, numRuns: 1500 },
    );
  });

  it("ends early with a distance that the true one is not below, once that is above what is enough", () => {
    const [whole, early] = [createGap(), createGap()];
    const share = fc.double({ min: -0.2, max: 1.2, noNaN: true });
    let bounds = 0;
    fc.assert(
      fc.property(anyPair(0.05, 2), share, ([a, b], part) => {
        gapOf(a, b, whole);
        const enough = whole.distance * part;
        gapOf(a, b, early, enough);
        if (!early.bound) assert.equal(early.distance, whole.distance);
        else {
          bounds += 1;
          assert.ok(enough < early.distance && early.distance <= whole.distance + 1e-9 * spanOf(a, b));
        }
      }),
      { seed: 43, numRuns: 1500 },
    );
    assert.ok(bounds > 300);
  });

  it("can leave depths out: overlapping cores are then as deep as their roundings, or deeper", () => {
    const [whole, quick] = [createGap(), createGap()];
    fc.assert(
      fc.property(anyPair(0.05, 2), ([a, b]) => {
        gapOf(a, b, whole);
        measureGap(a.body.convex, a.rotation, a.position, b.body.convex, b.rotation, b.position, quick, Infinity, "unknown"); // prettier-ignore
        const rounding = a.body.convex.rounding + b.body.convex.rounding;
        if (whole.distance > -rounding) assert.equal(quick.distance, whole.distance);
        else assert.ok(quick.distance >= whole.distance - 1e-9 && quick.distance <= -rounding + 1e-9);
      }),
      { seed: 50, numRuns: 500 },
    );
  });

  it("keeps its digits for sizes from 0.1 mm to 100 m in one pair, needles and flakes among them", () => {
    const gap = createGap();
    fc.assert(
      fc.property(anyPair(1e-4, 100), ([a, b]) => {
        gapOf(a, b, gap);
        assert.ok(Number.isFinite(gap.distance) && Math.abs(Math.hypot(...gap.along) - 1) < 1e-9);
        // The distance is proven by its two points; a direction across a needle is known less well.
        assert.ok(Math.abs(between(gap) - Math.abs(gap.distance)) <= 1e-9 * spanOf(a, b));
        assert.ok(apartAlong(a, b, triple(gap.along)) >= gap.distance - 1e-3 * spanOf(a, b));
      }),
      { seed: 44, numRuns: 3000 },
    );
  });

  it("does not depend on where in the set the two stand", () => {
    const [near, far] = [createGap(), createGap()];
    fc.assert(
      fc.property(anyPair(0.1, 1), ([a, b]) => {
        gapOf(a, b, near);
        const move = ({ body, rotation, position: [x, y, z] }: Placed): Placed =>
          placedAt(body, [x + 700, y - 300, z + 50], [...rotation]);
        gapOf(move(a), move(b), far);
        assert.ok(Math.abs(near.distance - far.distance) < (near.distance >= 0 ? 1e-9 : 1e-6));
      }),
      { seed: 45, numRuns: 500 },
    );
  });
});

describe("the gap of two bodies, in closed form", () => {
  /** Nearest distance of two segments: Ericson, Real-Time Collision Detection (2005), 5.1.9. */
  function segments(p1: Triple, q1: Triple, p2: Triple, q2: Triple): number {
    const minus = (a: Triple, b: Triple): Triple => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
    const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    const clamp = (value: number): number => Math.min(1, Math.max(0, value));
    const [d1, d2, r] = [minus(q1, p1), minus(q2, p2), minus(p1, p2)];
    const [a, e, f, c, b] = [dot(d1, d1), dot(d2, d2), dot(d2, r), dot(d1, r), dot(d1, d2)];
    const denominator = a * e - b * b;
    let s = denominator > 0 ? clamp((b * f - c * e) / denominator) : 0;
    let t = (b * s + f) / e;
    if (t < 0) [s, t] = [clamp(-c / a), 0];
    else if (t > 1) [s, t] = [clamp((b - c) / a), 1];
    return Math.hypot(...[0, 1, 2].map((k) => p1[k] + d1[k] * s - p2[k] - d2[k] * t));
  }

  it("is that of their segments, less both radii, for capsules", () => {
    fc.assert(
      fc.property(anyPair(0.05, 2), ([first, second]) => {
        const a = { ...first, body: capsuleBody(0.1, 1) };
        const b = { ...second, body: capsuleBody(0.05, 0.7) };
        const wanted = segments(inSet(a, [0, 0, -0.4]), inSet(a, [0, 0, 0.4]), inSet(b, [0, 0, -0.3]), inSet(b, [0, 0, 0.3])); // prettier-ignore
        const { distance } = gapOf(a, b);
        assert.ok(Math.abs(distance - (wanted - 0.15)) < 1e-11, `${distance} ${wanted - 0.15}`);
      }),
      { seed: 46, numRuns: 1000 },
    );
  });

  it("is that of a point to a box or a cylinder, less the radius, for a sphere, also inside", () => {
    const part = fc.double({ min: -1.5, max: 1.5, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(part, part, part), ([x, y, z]) => {
        const ballAt = placedAt(sphereBody(0.2), [x, y, z]);
        const [u, v, w] = [Math.abs(x) - 0.5, Math.abs(y) - 0.4, Math.abs(z) - 0.3];
        const box = Math.hypot(Math.max(u, 0), Math.max(v, 0), Math.max(w, 0)) + Math.min(Math.max(u, v, w), 0);
        assert.ok(Math.abs(gapOf(placedAt(boxBody([1, 0.8, 0.6])), ballAt).distance - (box - 0.2)) < 1e-11);
        const r = Math.hypot(x, y) - 0.5;
        const cylinder = Math.hypot(Math.max(r, 0), Math.max(w, 0)) + Math.min(Math.max(r, w), 0);
        assert.ok(Math.abs(gapOf(placedAt(cylinderBody(0.5, 0.6)), ballAt).distance - (cylinder - 0.2)) < 1e-9);
      }),
      { seed: 47, numRuns: 1500 },
    );
  });

  it("is that of circles for cylinders that stand beside each other, and of heights for those above each other", () => {
    const a = placedAt(cylinderBody(0.3, 1));
    const gap = gapOf(a, placedAt(cylinderBody(0.2, 1), [0.6, 0.8, 0.4]));
    assert.ok(Math.abs(gap.distance - 0.5) < 1e-11);
    assert.ok(Math.abs(gapOf(a, placedAt(cylinderBody(0.2, 1), [0.1, 0.2, 1.25])).distance - 0.25) < 1e-11);
    // Rim to rim: 0.5 across, 0.25 up.
    assert.ok(Math.abs(gapOf(a, placedAt(cylinderBody(0.2, 1), [0.6, 0.8, 1.25])).distance - Math.hypot(0.5, 0.25)) < 1e-9); // prettier-ignore
    // One lies on its side over the other's rim: their skins are nearest on the line between both axes.
    const lying = rotationOf([1, 0, 0, 1]);
    assert.ok(Math.abs(gapOf(a, placedAt(cylinderBody(0.2, 4), [0.9, 0, 0], lying)).distance - 0.4) < 1e-11);
  });
});

describe("the depth of two bodies that overlap", () => {
  it("is parted by the shift that is given, and no direction among many parts them by less", () => {
    const many = ball(600, 1);
    const gap = createGap();
    let deep = 0;
    fc.assert(
      fc.property(anyPair(0.2, 1), ([a, b]) => {
        gapOf(a, b, gap);
        if (gap.distance >= 0) return;
        deep += 1;
        const shift: Triple = [gap.to[0] - gap.from[0], gap.to[1] - gap.from[1], gap.to[2] - gap.from[2]];
        const [x, y, z] = a.position;
        const parted = { ...a, position: [x + shift[0], y + shift[1], z + shift[2]] as Triple };
        assert.ok(Math.abs(gapOf(parted, b).distance) < 1e-8 * spanOf(a, b));
        const best = Math.max(...many.map((d) => apartAlong(a, b, d)));
        assert.ok(best <= gap.distance + 1e-6 * spanOf(a, b), `${best} ${gap.distance}`);
      }),
      { seed: 48, numRuns: 1000 },
    );
    assert.ok(deep > 200);
  });

  /** Depth of two boxes along the fifteen directions that can be the least: Gottschalk, Lin and Manocha, OBBTree (1996). */
  function boxes(a: Placed, b: Placed): number {
    const column = ({ rotation: r }: Placed, k: number): Triple => [r[k], r[k + 3], r[k + 6]];
    const sides = [0, 1, 2].flatMap((k) => [column(a, k), column(b, k)]);
    const edges = [0, 1, 2].flatMap((i) =>
      [0, 1, 2].map((j): Triple => {
        const [u, v] = [column(a, i), column(b, j)];
        return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      }),
    );
    const units = [...sides, ...edges.filter((d) => Math.hypot(...d) > 1e-6)].map((d): Triple => {
      const size = Math.hypot(...d);
      return [d[0] / size, d[1] / size, d[2] / size];
    });
    return Math.max(...units.flatMap((d) => [apartAlong(a, b, d), apartAlong(a, b, [-d[0], -d[1], -d[2]])]));
  }

  it("is that of the fifteen directions for boxes", () => {
    let deep = 0;
    fc.assert(
      fc.property(anyPair(0.2, 1), ([first, second]) => {
        const a = { ...first, body: boxBody([1, 0.5, 0.3]) };
        const b = { ...second, body: boxBody([0.2, 0.9, 0.6]) };
        const wanted = boxes(a, b);
        if (wanted > -1e-6) return;
        deep += 1;
        assert.ok(Math.abs(gapOf(a, b).distance - wanted) < 1e-10);
      }),
      { seed: 49, numRuns: 1500 },
    );
    assert.ok(deep > 100, `${deep}`);
  });

  it("is right where both have one centre", () => {
    const turned = rotationOf([0.3, 0.5, -0.2, 0.8]);
    const cases: [TestBody, TestBody, number[], number][] = [
      [sphereBody(0.3), sphereBody(0.3), UPRIGHT, 0.6],
      [boxBody([1, 2, 3]), boxBody([1, 2, 3]), UPRIGHT, 1],
      [cylinderBody(0.5, 2), cylinderBody(0.5, 2), UPRIGHT, 1],
      [cylinderBody(0.5, 2), sphereBody(0.25), turned, 0.75],
      [capsuleBody(0.1, 1), capsuleBody(0.1, 1), UPRIGHT, 0.2],
      [capsuleBody(0.1, 1), capsuleBody(0.1, 1), rotationOf([1, 0, 0, 1]), 0.2],
      [capsuleBody(0.1, 1), cylinderBody(0.2, 1), UPRIGHT, 0.3],
      [boxBody([0.4, 0.4, 0.4]), sphereBody(0.1), turned, 0.3],
    ];
    for (const [a, b, rotation, depth] of cases) {
      const { distance } = gapOf(placedAt(a, [1, 2, 3]), placedAt(b, [1, 2, 3], rotation));
      assert.ok(Math.abs(distance + depth) < 1e-9, `${a.name} ${b.name}: ${distance}`);
    }
  });

  it("is 0 where the two just touch, and changes by as much as one moves", () => {
    const flat = pointsBody([[-1, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]]); // prettier-ignore
    const cases: [TestBody, TestBody, number][] = [
      [boxBody([1, 1, 1]), boxBody([1, 1, 1]), 1],
      [boxBody([1, 1, 1]), sphereBody(0.25), 0.75],
      [cylinderBody(0.5, 1), cylinderBody(0.5, 2), 1],
      [sphereBody(0.5), sphereBody(0.5), 1],
      [pointsBody([[0, 0, 0]]), boxBody([1, 1, 1]), 0.5],
      [pointsBody([[0, 0, 0]]), pointsBody([[0, 0, 0]]), 0],
      [flat, sphereBody(0.5), 1.5],
    ];
    for (const [a, b, x] of cases) {
      for (const step of [-1e-3, -1e-6, -1e-9, 0, 1e-9, 1e-6, 1e-3]) {
        // What has no thickness can't be parted by less than nothing.
        const wanted = a.convex.radius === 0 && b.convex.radius === 0 ? Math.abs(step) : step;
        const { distance } = gapOf(placedAt(a), placedAt(b, [x + step, 0, 0]));
        assert.ok(Math.abs(distance - wanted) < 2e-11, `${a.name} ${b.name} ${step}: ${distance}`);
      }
    }
  });

  it("is its thickness for a flat body through another, not nothing", () => {
    const flat = pointsBody([[-1, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]]); // prettier-ignore
    assert.ok(Math.abs(gapOf(placedAt(flat), placedAt(boxBody([0.5, 0.5, 0.5]), [0, 0, 0.1])).distance + 0.15) < 1e-12);
    assert.ok(Math.abs(gapOf(placedAt(flat), placedAt(flat, [0.5, 0, 0])).distance) < 1e-12);
    assert.ok(Math.abs(gapOf(placedAt(flat), placedAt(flat, [2.5, 0, 0])).distance - 0.5) < 1e-12);
    assert.ok(Math.abs(gapOf(placedAt(flat), placedAt(sphereBody(0.2), [0.2, 0.1, 0])).distance + 0.2) < 1e-12);
  });
});
