import assert from "node:assert/strict";
import fc from "fast-check";
import { optics } from "../../test/support/lenses.ts";
import { seededRandom } from "../base/random.ts";
import { createPupilRoom, nearness, pupilAt, pupilTerm, writePupilTerms } from "./pupil.ts";
import { pupilTable, type PupilRow } from "./pupil-table.ts";

/** Rows of a zoom that is measured at three focal lengths, each at distances of its own. */
const ZOOM: readonly PupilRow[] = [
  { focal: 0.024, near: 0, at: 0.06 },
  { focal: 0.024, near: 2, at: 0.066 },
  { focal: 0.035, near: 0.5, at: 0.08 },
  { focal: 0.035, near: 1, at: 0.082 },
  { focal: 0.035, near: 2.5, at: 0.091 },
  { focal: 0.07, at: 0.095 },
];

/** A full grid with values that a seed makes, in millimetres 30 to 130. */
function gridOf(seed: number, focals: number, nears: number, rising: boolean): PupilRow[] {
  const random = seededRandom(seed);
  const step = (i: number): number => 0.5 + random() + i;
  const lengths = Array.from({ length: focals }, (_, i) => 0.02 * step(i));
  const near = Array.from({ length: nears }, (_, i) => 0.8 * step(i));
  const heights: number[][] = [];
  for (let i = 0; i < focals; i++) {
    heights.push([]);
    for (let k = 0; k < nears; k++) {
      const below = Math.max(heights[i - 1]?.[k] ?? 0, heights[i][k - 1] ?? 0);
      heights[i].push(rising ? below + (random() < 0.2 ? 0 : random() ** 2) : random());
    }
  }
  const most = Math.max(...heights.flat()) || 1;
  return heights.flatMap((line, i) =>
    line.map((height, k) => ({ focal: lengths[i], near: near[k], at: 0.03 + (0.1 * height) / most })),
  );
}

const anyGrid = fc.tuple(
  fc.integer({ min: 1, max: 1e6 }),
  fc.integer({ min: 1, max: 4 }),
  fc.integer({ min: 1, max: 4 }),
);

describe("pupilAt", () => {
  it("meets every row, whatever distances the other focal lengths have", () => {
    const lens = optics({ pupil: pupilTable(ZOOM) });
    for (const row of ZOOM) {
      for (const near of row.near === undefined ? [0, 0.3, 2.5, 7] : [row.near]) {
        assert.ok(Math.abs(pupilAt(lens, row.focal, 1 / near) - row.at) < 1e-15, `${row.focal} ${near}`);
      }
    }
  });

  it("is straight between two rows, and between rows on a line", () => {
    const two = optics({ pupil: pupilTable([ZOOM[0], ZOOM[1]]) });
    for (const near of [0, 0.1, 1, 1.9])
      assert.ok(Math.abs(pupilAt(two, 0.05, 1 / near) - 0.06 - 0.003 * near) < 1e-15);
    const rows = [0.02, 0.03, 0.07].flatMap((focal) =>
      [0, 0.5, 3].map((near) => ({ focal, near, at: 0.01 + focal + 0.004 * near + 0.2 * focal * near })),
    );
    const plane = optics({ pupil: pupilTable(rows) });
    for (const [focal, near] of [
      [0.021, 0.2],
      [0.029, 2.9],
      [0.05, 1.3],
      [0.069, 0.01],
    ]) {
      const exact = 0.01 + focal + 0.004 * near + 0.2 * focal * near;
      assert.ok(Math.abs(pupilAt(plane, focal, 1 / near) - exact) < 1e-14, `${focal} ${near}`);
    }
  });

  it("never leaves the range of the rows around it", () => {
    fc.assert(
      fc.property(
        anyGrid,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        ([seed, m, n], x, y) => {
          const rows = gridOf(seed, m, n, seed % 3 === 0);
          const lens = optics({ pupil: pupilTable(rows) });
          for (let i = 0; i + 1 < Math.max(2, m); i++) {
            for (let k = 0; k + 1 < Math.max(2, n); k++) {
              const at = (a: number, b: number): PupilRow => rows[Math.min(a, m - 1) * n + Math.min(b, n - 1)];
              const corners = [at(i, k), at(i, k + 1), at(i + 1, k), at(i + 1, k + 1)];
              const focal = corners[0].focal + x * (corners[3].focal - corners[0].focal);
              const near = corners[0].near! + y * (corners[3].near! - corners[0].near!);
              const value = pupilAt(lens, focal, 1 / near);
              const values = corners.map((corner) => corner.at);
              assert.ok(
                Math.min(...values) - 1e-12 <= value && value <= Math.max(...values) + 1e-12,
                `${values.join()} ${value}`,
              );
            }
          }
        },
      ),
      { numRuns: 1000, seed: 31 },
    );
  });

  it("rises along focal length and along nearness where all rows do", () => {
    fc.assert(
      fc.property(anyGrid, ([seed, m, n]) => {
        const rows = gridOf(seed, m, n, true);
        const lens = optics({ pupil: pupilTable(rows) });
        const share = (i: number, from: number, to: number): number => from + (i / 12) * (to - from);
        const last = rows[rows.length - 1];
        const value = (i: number, k: number): number =>
          pupilAt(lens, share(i, rows[0].focal, last.focal), 1 / share(k, rows[0].near!, last.near!));
        for (let i = 0; i <= 12; i++) {
          for (let k = 0; k < 12; k++) {
            assert.ok(value(i, k) <= value(i, k + 1) + 1e-12);
            assert.ok(value(k, i) <= value(k + 1, i) + 1e-12);
          }
        }
      }),
      { numRuns: 150, seed: 32 },
    );
  });

  it("levels off beyond its rows and counts no focus as infinity", () => {
    const lens = optics({ pupil: pupilTable(ZOOM) });
    assert.equal(pupilAt(lens, 0.024, NaN), 0.06);
    assert.equal(pupilAt(lens, 0.024, Infinity), 0.06);
    // The last step at 24 mm is 2 in nearness wide and rises by 6 mm; a quarter of it further half of a quarter is added.
    const most = 0.066 + 0.006 / 8;
    const far = [0.3, 0.01, 1e-300, 0, -2].map((focus) => pupilAt(lens, 0.024, focus));
    for (const value of far) assert.ok(most <= value && value < most + 1e-4, far.join());
    assert.equal(far[1], far[4]);
    assert.equal(pupilAt(lens, 0.5, 2), pupilAt(lens, 1, 2));
    assert.equal(pupilAt(lens, 0.01, 2), pupilAt(lens, 0.001, 2));
  });
});

describe("writePupilTerms", () => {
  it("gives the derivatives that difference quotients of the terms below give", () => {
    const table = pupilTable(ZOOM);
    const room = createPupilRoom();
    const read = (focal: number, near: number, i: number, j: number): number => {
      writePupilTerms(table, focal, near, 4, room);
      return pupilTerm(room, i, j);
    };
    for (const [focal, near] of [
      [0.026, 0.3],
      [0.03, 1.6],
      [0.04, 2.4],
      [0.06, 0.7],
      [0.0701, 0.1],
      [0.0355, 2.7],
    ]) {
      for (let i = 0; i < 4; i++) {
        for (let j = 0; i + j < 4; j++) {
          const [df, dn] = [1e-6, 1e-5];
          const along = (read(focal + df, near, i, j) - read(focal - df, near, i, j)) / (2 * df) / (i + 1);
          const across = (read(focal, near + dn, i, j) - read(focal, near - dn, i, j)) / (2 * dn) / (j + 1);
          const [f, n] = [read(focal, near, i + 1, j), read(focal, near, i, j + 1)];
          const size = 0.03 / 0.01 ** (i + 1);
          assert.ok(Math.abs(f - along) < 1e-4 * size, `${focal} ${near} ${i} ${j}: ${f} ${along}`);
          assert.ok(Math.abs(n - across) < 1e-4 * (0.03 / 0.01 ** i), `${focal} ${near} ${i} ${j}: ${n} ${across}`);
        }
      }
    }
  });

  it("steps in no derivative to the fourth at a row", () => {
    const table = pupilTable(ZOOM);
    const [left, right] = [createPupilRoom(), createPupilRoom()];
    for (const focal of table.focal) {
      for (const near of [0.2, 0.5, 1.7]) {
        writePupilTerms(table, focal * (1 - 1e-13), near, 4, left);
        writePupilTerms(table, focal * (1 + 1e-13), near, 4, right);
        for (let i = 0; i < 5; i++) {
          const scale = 0.1 / 0.002 ** i;
          assert.ok(Math.abs(pupilTerm(left, i, 0) - pupilTerm(right, i, 0)) < 1e-8 * scale, `${focal} ${i}`);
        }
      }
    }
    for (const near of table.near.filter((one) => 0 < one)) {
      writePupilTerms(table, 0.028, near * (1 - 1e-13), 4, left);
      writePupilTerms(table, 0.028, near * (1 + 1e-13), 4, right);
      for (let j = 0; j < 5; j++)
        assert.ok(Math.abs(pupilTerm(left, 0, j) - pupilTerm(right, 0, j)) < 1e-8, `${near} ${j}`);
    }
  });

  it("knows nearness", () => {
    assert.deepEqual([NaN, Infinity, 2, 0, -1].map(nearness), [0, 0, 0.5, Infinity, Infinity]);
  });
});
