import type { Task } from "../base/task.ts";
import type { RegionGrid } from "./region-grid.ts";

/** A surface as triangles, shape (n, 3, 3) [m], and its outline as lines, shape (m, 2, 3). */
export interface RegionSurface {
  readonly triangles: Float32Array;
  readonly outline: Float32Array;
}

/** Crossings between two yields: each is a handful of descents. */
const SLICE = 2;

/** The part of a section that is in reach: each square of the grid is cut where reach ends. */
export function* sectionSurface(grid: RegionGrid): Task<RegionSurface> {
  const { inside, counts, origin, step } = grid;
  const [nx, ny] = counts;
  const crossings = new Map<string, readonly number[]>();
  const placeOf = (node: number): readonly number[] => [
    origin[0] + (node % nx) * step,
    origin[1] + Math.floor(node / nx) * step,
    origin[2],
  ];
  const triangles: number[] = [];
  const outline: number[] = [];
  let done = 0;
  for (let y = 0; y + 1 < ny; y++) {
    for (let x = 0; x + 1 < nx; x++) {
      const nodes = [x + nx * y, x + 1 + nx * y, x + 1 + nx * (y + 1), x + nx * (y + 1)];
      if (nodes.every((node) => inside[node] === 0)) continue;
      // Round the square: corners in reach, and where the way to the next one leaves it or comes back.
      const polygon: (readonly number[])[] = [];
      const cuts: (readonly number[])[] = [];
      for (let k = 0; k < 4; k++) {
        const [a, b] = [nodes[k], nodes[(k + 1) % 4]];
        if (inside[a] === 1) polygon.push(placeOf(a));
        if (inside[a] === inside[b]) continue;
        const name = a < b ? `${a} ${b}` : `${b} ${a}`;
        let cut = crossings.get(name);
        if (!cut) {
          cut = between(placeOf(a), placeOf(b), grid.crossing(a, b));
          crossings.set(name, cut);
          if (++done % SLICE === 0) yield;
        }
        polygon.push(cut);
        cuts.push(cut);
      }
      for (let k = 1; k + 1 < polygon.length; k++) triangles.push(...polygon[0], ...polygon[k], ...polygon[k + 1]);
      for (let k = 0; k + 1 < cuts.length; k += 2) outline.push(...cuts[k], ...cuts[k + 1]);
    }
    yield;
  }
  return { triangles: Float32Array.from(triangles), outline: Float32Array.from(outline) };
}

/**
 * The surface of a region: one corner in each cube of the grid that it passes, in the middle of where it crosses the cube's
 * edges, and a quadrangle about each edge that it crosses (naive surface nets, S. F. F. Gibson, "Constrained elastic
 * surface nets", MICCAI 1998).
 */
export function* shellSurface(grid: RegionGrid): Task<RegionSurface> {
  const { inside, counts, origin, step } = grid;
  const [nx, ny, nz] = counts;
  const stride = [1, nx, nx * ny];
  const sums = new Map<number, number[]>();
  /** Corners of the cubes about each crossed edge, in order round it; turned where reach lies on the far side. */
  const quads: number[] = [];
  let done = 0;
  for (let z = 0; z < nz; z++) {
    for (let y = 0; y < ny; y++) {
      for (let x = 0; x < nx; x++) {
        const at = [x, y, z];
        const node = x + nx * (y + ny * z);
        for (let axis = 0; axis < 3; axis++) {
          if (at[axis] + 1 >= counts[axis]) continue;
          const next = node + stride[axis];
          if (inside[node] === inside[next]) continue;
          const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
          const share = grid.crossing(node, next);
          if (++done % SLICE === 0) yield;
          const place = at.map((one, k) => origin[k] + (one + (k === axis ? share : 0)) * step);
          const cubes = [[0, 0], [-1, 0], [-1, -1], [0, -1]].map(([a, b]) => node + a * stride[u] + b * stride[v]); // prettier-ignore
          for (const cube of cubes) {
            const sum = sums.get(cube) ?? [0, 0, 0, 0];
            for (let k = 0; k < 3; k++) sum[k] += place[k];
            sum[3] += 1;
            sums.set(cube, sum);
          }
          quads.push(...(inside[node] === 1 ? cubes : cubes.reverse()));
        }
      }
    }
    yield;
  }
  const triangles = new Float32Array((quads.length / 4) * 18);
  let at = 0;
  for (let k = 0; k < quads.length; k += 4) {
    for (const corner of [0, 1, 2, 0, 2, 3]) {
      const [x, y, z, count] = sums.get(quads[k + corner])!;
      triangles.set([x / count, y / count, z / count], at);
      at += 3;
    }
  }
  return { triangles, outline: new Float32Array(0) };
}

const between = (a: readonly number[], b: readonly number[], share: number): readonly number[] =>
  a.map((part, k) => part + share * (b[k] - part));
