import assert from "node:assert/strict";
import fc from "fast-check";
import { ball, rotationOf, type Triple } from "../../test/support/solids.ts";
import { hullOf, MOST_HULL_CORNERS, type Hull, hullTriangles } from "./hull.ts";

const DIRECTIONS = ball(400, 1);

const reach = (points: ArrayLike<number>, [x, y, z]: Triple): number => {
  let most = -Infinity;
  for (let i = 0; i < points.length; i += 3)
    most = Math.max(most, x * points[i] + y * points[i + 1] + z * points[i + 2]);
  return most;
};

/** By its definition: along every direction the corners reach as far as the points, less the margin, and no farther. */
function assertHolds({ corners, margin }: Hull, points: readonly number[]): void {
  for (const d of DIRECTIONS) {
    const [whole, few] = [reach(points, d), reach(corners, d)];
    assert.ok(few <= whole && whole <= few + margin + 1e-12, `${whole} ${few} ${margin}`);
  }
}

function cornersOf({ corners }: Hull): string[] {
  return Array.from({ length: corners.length / 3 }, (_, idx) => corners.slice(3 * idx, 3 * idx + 3).join(" ")).sort();
}

describe("the hull of points", () => {
  it("is the eight corners of a box, whatever else lies in it and on it", () => {
    const points: number[] = [];
    for (let i = 0; i <= 10; i++) {
      for (let j = 0; j <= 10; j++) for (let k = 0; k <= 10; k++) points.push(i / 10, j / 5, k / 20);
    }
    const hull = hullOf([...points, ...points]);
    assert.equal(hull.margin, 0);
    const wanted = [0, 1].flatMap((x) => [0, 2].flatMap((y) => [0, 0.5].map((z) => [x, y, z].join(" "))));
    assert.deepEqual(cornersOf(hull), wanted.sort());
  });

  it("is all corners of the regular bodies", () => {
    const gold = (1 + Math.sqrt(5)) / 2;
    const signs = [-1, 1];
    const cube = signs.flatMap((x) => signs.flatMap((y) => signs.map((z): Triple => [x, y, z])));
    const cycle = (a: number, b: number): Triple[] =>
      signs.flatMap((s) => signs.flatMap((t): Triple[] => [[0, s * a, t * b], [s * a, t * b, 0], [t * b, 0, s * a]])); // prettier-ignore
    const octahedron = signs.flatMap((s): Triple[] => [[s, 0, 0], [0, s, 0], [0, 0, s]]); // prettier-ignore
    for (const body of [cube, octahedron, cycle(1, gold), [...cube, ...cycle(1 / gold, gold)]]) {
      const hull = hullOf([...body.flat(), 0, 0, 0]);
      assert.deepEqual(cornersOf(hull), body.map((at) => at.join(" ")).sort());
      assert.equal(hull.margin, 0);
    }
  });

  it("holds all points within its margin, which is small, for clouds of every form", () => {
    const share = fc.integer({ min: -1000, max: 1000 }).map((steps) => steps / 1000);
    const size = fc.constantFrom(1e-3, 0.1, 1, 30);
    fc.assert(
      fc.property(fc.array(fc.tuple(share, share, share), { minLength: 1, maxLength: 60 }), size, size, (all, u, v) => {
        const points = all.flatMap(([x, y, z]) => [x * u, y * v, z]);
        const hull = hullOf(points);
        assertHolds(hull, points);
        assert.ok(hull.margin <= 1e-6 * Math.max(u, v, 1), `${hull.margin}`);
      }),
      { seed: 61, numRuns: 400 },
    );
  });

  it("takes what lies on a plane, a line or one place as that", () => {
    const turn = rotationOf([0.2, -0.4, 0.1, 0.9]);
    const place = (x: number, y: number): number[] => [0, 1, 2].map((k) => turn[3 * k] * x + turn[3 * k + 1] * y);
    const grid = Array.from({ length: 121 }, (_, idx) => place(idx % 11, Math.floor(idx / 11) / 2)).flat();
    const flat = hullOf(grid);
    assertHolds(flat, grid);
    assert.ok(flat.corners.length === 12 && flat.margin < 1e-7, `${flat.corners.length}`);
    const line = hullOf(Array.from({ length: 9 }, (_, idx) => place(idx, 0)).flat());
    assert.equal(line.corners.length, 6);
    assert.deepEqual(hullOf([1, 2, 3, 1, 2, 3]), { corners: [1, 2, 3], margin: 0 });
  });

  it("has few corners for a fine ball, and says by how much they fall short", () => {
    const points = ball(5000, 0.5).flat();
    const hull = hullOf(points);
    assert.equal(hull.corners.length, 3 * MOST_HULL_CORNERS);
    assertHolds(hull, points);
    assert.ok(0 < hull.margin && hull.margin < 0.02 * 0.5, `${hull.margin}`);
  });

  it("is not confused by single precision of faces that lie askew", () => {
    const turn = rotationOf([0.3, 0.5, -0.2, 0.8]);
    const points: number[] = [];
    for (let i = 0; i <= 8; i++) {
      for (let j = 0; j <= 8; j++) {
        for (let k = 0; k <= 8; k++) {
          for (let row = 0; row < 9; row += 3)
            points.push(Math.fround(turn[row] * i + turn[row + 1] * j + turn[row + 2] * k));
        }
      }
    }
    const hull = hullOf(points);
    assertHolds(hull, points);
    assert.ok(hull.corners.length <= 3 * 20 && hull.margin < 1e-5, `${hull.corners.length} ${hull.margin}`);
  });
});

describe("the surface of a hull", () => {
  it("of a box among points within it is closed, turned outwards and of the box's volume", () => {
    const corners = [0, 1].flatMap((x) => [0, 1].flatMap((y) => [0, 1].map((z) => [2 * x, 3 * y, 0.5 * z])));
    const inner = Array.from({ length: 20 }, (_, i) => [0.1 + 0.09 * i, 1.5, 0.25 + 0.01 * (i % 3)]);
    const t = hullTriangles([...corners, ...inner].flat());
    assert.equal(t.length, 9 * 12);
    let volume = 0;
    for (let i = 0; i < t.length; i += 9) {
      volume += t[i] * (t[i + 4] * t[i + 8] - t[i + 5] * t[i + 7]);
      volume += t[i + 1] * (t[i + 5] * t[i + 6] - t[i + 3] * t[i + 8]);
      volume += t[i + 2] * (t[i + 3] * t[i + 7] - t[i + 4] * t[i + 6]);
    }
    assert.ok(Math.abs(volume / 6 - 3) < 1e-12, `${volume / 6} m³`);
  });

  it("is none of points in one plane", () => {
    assert.deepEqual(hullTriangles([0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0]), []);
  });
});
