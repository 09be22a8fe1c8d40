import assert from "node:assert/strict";
import fc from "fast-check";
import { unitVector } from "../../test/support/rigs.ts";
import { add, cross, normalise, scale, type Vec3 } from "../base/vec3.ts";
import type { PathPiece } from "./path-piece.ts";
import { createPathRoom, writePathPlace } from "./path-series.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import { createTargetRoom, type TargetCourse } from "./target-series.ts";

/** Tracks: the length travelled, the angle of a table, a target's own three coordinates; each a polynomial of time. */
const TRACKS = 5;
const part = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });
const curves = fc.array(fc.array(part(1), { minLength: ROOM, maxLength: ROOM }), {
  minLength: TRACKS,
  maxLength: TRACKS,
});
const vector = fc.tuple(part(1), part(1), part(1));

const targets: readonly TargetCourse[] = [
  { at: [0.2, 0.1, 0.3], path: -1, angle: 1, centre: [2, 0, 1], along: [0, 0, 1] },
  { at: [0, 0, 0], path: 2, angle: -1, centre: [0, 0, 0], along: [0, 0, 1] },
];

/** Taylor coefficients of the tracks about `t`. */
function seriesAt(polynomials: readonly (readonly number[])[], t: number): Float64Array {
  const series = new Float64Array(TRACKS * ROOM);
  polynomials.forEach((polynomial, track) => {
    for (let k = 0; k < ROOM; k++) {
      for (let n = k; n < ROOM; n++) {
        let choose = 1;
        for (let i = 0; i < k; i++) choose = (choose * (n - i)) / (i + 1);
        series[track * ROOM + k] += polynomial[n] * choose * t ** (n - k);
      }
    }
  });
  return series;
}

function placeAt(piece: PathPiece, polynomials: readonly (readonly number[])[], t: number): Float64Array {
  const out = new Float64Array(3 * ROOM);
  const tracks = seriesAt(polynomials, t);
  writePathPlace(piece, targets, tracks, 0, ROOM - 1, createPathRoom(), createTargetRoom(), out, 0);
  return out;
}

const turns = fc
  .record({
    from: fc.constantFrom(-1, 0, 1),
    along: unitVector,
    aside: unitVector,
    centre: vector,
    turn: part(2),
    radius: part(1),
    widen: part(0.5),
    rise: part(0.5),
  })
  .map(({ from, along, aside, ...shape }): PathPiece => {
    const spread = cross(along, aside);
    const first = normalise(Math.hypot(...spread) < 1e-3 ? cross(along, [along[1], along[2], -along[0]]) : spread)!;
    return {
      start: 0.1,
      end: 0.9,
      from,
      to: from,
      shape: { kind: "turn", along, first, second: cross(along, first), ...shape },
    };
  });

const polynomials = fc
  .record({
    from: fc.constantFrom(-1, 0, 1),
    to: fc.constantFrom(-1, 0, 1),
    coefficients: fc.array(part(1), { minLength: 18, maxLength: 18 }),
  })
  .map(({ from, to, coefficients }): PathPiece => ({
    start: -0.2,
    end: 0.5,
    from,
    to,
    shape: { kind: "polynomial", degree: 5, coefficients: Float64Array.from(coefficients) },
  }));

describe("the place on a path", () => {
  it("has the derivatives that difference quotients have, whatever moves", () => {
    fc.assert(
      fc.property(fc.oneof(turns, polynomials), curves, (piece, tracks) => {
        const h = 1e-3;
        const at = (t: number): Float64Array => placeAt(piece, tracks, t);
        const [here, a, b, c, d] = [at(0.3), at(0.3 + h), at(0.3 - h), at(0.3 + h / 2), at(0.3 - h / 2)];
        for (let axis = 0; axis < 3; axis++) {
          for (let k = 0; k + 1 < ROOM; k++) {
            const i = axis * ROOM + k;
            // Richardson's rule on central differences.
            const quotient = (FACTORIAL[k] * ((4 * (c[i] - d[i])) / h - (a[i] - b[i]) / (2 * h))) / 3;
            const given = FACTORIAL[k + 1 <= 4 ? ((k + 1) as 1 | 2 | 3 | 4) : 4] * here[i + 1];
            assert.ok(
              Math.abs(quotient - given) < 1e-6 * (1 + Math.abs(given)),
              `order ${k + 1}: ${given}, ${quotient}`,
            );
          }
        }
      }),
      { seed: 21, numRuns: 300 },
    );
  });

  it("on a turn is on the circle", () => {
    fc.assert(
      fc.property(turns, part(0.5), (piece, u) => {
        if (piece.shape.kind !== "turn" || piece.from !== -1) return;
        const { centre, along, first, second, turn, radius, widen, rise } = piece.shape;
        const still = Array.from({ length: TRACKS }, (_, i) => [i === 0 ? u : 0, 0, 0, 0, 0]);
        const out = placeAt(piece, still, 0);
        const v = u - piece.start;
        const wide = radius + widen * v;
        const expected: Vec3 = add(
          add(centre, scale(along, rise * v)),
          add(scale(first, wide * Math.cos(turn * v)), scale(second, wide * Math.sin(turn * v))),
        );
        expected.forEach((value, axis) => assert.ok(Math.abs(out[axis * ROOM] - value) < 1e-12));
      }),
      { seed: 22, numRuns: 200 },
    );
  });

  it("goes over from one frame to another without a step of speed or acceleration at either end", () => {
    const tracks = [
      [0, 1, 0, 0, 0],
      [0.3, 0.8, 0.2, 0, 0],
      [1, 0.5, -0.3, 0.1, 0],
      [0, 0.2, 0.4, 0, 0],
      [0, -0.1, 0, 0.2, 0],
    ];
    const shape = { kind: "polynomial", degree: 0, coefficients: new Float64Array(3) } as const;
    const frame = (from: number, to: number): PathPiece => ({ start: 0, end: 1, from, to, shape });
    for (const [t, target] of [
      [0, 0],
      [1, 1],
    ] as const) {
      const [over, own] = [placeAt(frame(0, 1), tracks, t), placeAt(frame(target, target), tracks, t)];
      for (let axis = 0; axis < 3; axis++) {
        for (let k = 0; k < 3; k++) assert.ok(Math.abs(over[axis * ROOM + k] - own[axis * ROOM + k]) < 1e-12);
      }
    }
  });
});
