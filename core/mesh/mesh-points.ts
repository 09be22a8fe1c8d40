/** What is wrong with the bytes of a mesh, as a sentence for who refers to it. */
export interface MeshFault {
  readonly fault: string;
}

/** The corners of all triangles of a mesh, shape (n, 3), n >= 3, in its own units and axes, z up. A corner may stand many times. */
export interface MeshPoints {
  readonly points: Float64Array;
}

/** More triangles than this are no mesh that a clearance is measured to: what the largest file that is read can hold, and some more. */
export const MOST_TRIANGLES = 2_000_000;

export const NO_TRIANGLES: MeshFault = { fault: "It holds no triangles." };

/** The points as they are, when they make triangles and are numbers. */
export function soundPoints(points: Float64Array): MeshPoints | MeshFault {
  if (points.length < 9) return NO_TRIANGLES;
  for (const value of points) if (!Number.isFinite(value)) return { fault: "It holds places that are no numbers." };
  return { points };
}
