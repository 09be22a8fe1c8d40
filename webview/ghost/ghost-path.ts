import { BufferGeometry, Float32BufferAttribute, LineSegments } from "three";
import { STAGE_ONLY } from "../stage/eye.ts";
import type { Materials } from "../stage/materials.ts";

/** Dashes of a path, and how many of them there are at least where it is short; gaps are as long as dashes. */
const MOST_DASHES = 120;
/** A dash is not shorter than this [m]. */
const SHORTEST = 0.012;

export interface GhostPath {
  readonly object: LineSegments;
  dispose(): void;
}

/**
 * The path of the ghost's entrance pupil, dashed along its length and so told from the other without colour.
 *
 * @param position Shape (n, 3) in the set [m].
 */
export function createGhostPath(position: Float64Array, materials: Materials): GhostPath {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(dashes(position), 3));
  const object = new LineSegments(geometry, materials.rigEdge);
  object.frustumCulled = false;
  object.layers.set(STAGE_ONLY);
  return { object, dispose: () => geometry.dispose() };
}

/** Ends of the pieces of all dashes, shape (pieces, 2, 3). */
export function dashes(position: Float64Array): number[] {
  const points: number[][] = [];
  for (let i = 0; i + 2 < position.length; i += 3) {
    const point = [position[i], position[i + 1], position[i + 2]];
    if (point.every(Number.isFinite)) points.push(point);
  }
  let whole = 0;
  for (let i = 1; i < points.length; i++) whole += apart(points[i - 1], points[i]);
  const dash = Math.max(whole / (2 * MOST_DASHES), SHORTEST);
  const out: number[] = [];
  let gone = 0;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]];
    const length = apart(a, b);
    const at = (s: number): number[] => a.map((part, k) => part + ((b[k] - part) * s) / length);
    let from = 0;
    while (from < length) {
      // What is left of this dash or gap; a sample may end within it, or it within a sample.
      const step = Math.floor((gone + from) / dash + 1e-9);
      const to = Math.min(length, Math.max((step + 1) * dash - gone, from + 1e-9));
      if (step % 2 === 0) out.push(...at(from), ...at(to));
      from = to;
    }
    gone += length;
  }
  return out;
}

const apart = (a: readonly number[], b: readonly number[]): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
