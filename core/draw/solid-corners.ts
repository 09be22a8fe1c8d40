import type { Vec3 } from "../base/vec3.ts";
import type { Solid } from "../rig/resolved-rig.ts";

/** What is drawn of a solid, in its own frame [m]. */
export interface DrawnSolid {
  /** Points whose hull looks as the solid does. */
  readonly corners: readonly Vec3[];
  /** Flat faces whose edges are drawn where they are turned to the eye. */
  readonly faces: readonly DrawnFace[];
}

export interface DrawnFace {
  /** Unit vector out of the solid. */
  readonly out: Vec3;
  readonly ring: readonly Vec3[];
}

/** Steps round a circle: a chord of it is less than 0.3 % of the radius off. */
const STEPS = 48;
/** Rings between the poles of a ball. */
const RINGS = 23;

/** `undefined` for a mesh whose hull is not known. */
export function drawnSolid(solid: Solid): DrawnSolid | undefined {
  switch (solid.shape) {
    case "box":
      return box(solid.size);
    case "cylinder": {
      const half = solid.height / 2;
      const [low, high] = [ring(solid.radius, -half), ring(solid.radius, half)];
      const faces = [
        { out: [0, 0, -1] as const, ring: low },
        { out: [0, 0, 1] as const, ring: high },
      ];
      return { corners: [...low, ...high], faces };
    }
    case "sphere":
      return { corners: ball(solid.radius, 0), faces: [] };
    case "capsule":
      return { corners: ball(solid.radius, Math.max(0, solid.height / 2 - solid.radius)), faces: [] };
    case "mesh": {
      const { hull } = solid;
      if (!hull) return undefined;
      const corners = Array.from({ length: hull.length / 3 }, (_, i): Vec3 => [hull[3 * i], hull[3 * i + 1], hull[3 * i + 2]]); // prettier-ignore
      return { corners, faces: [] };
    }
  }
}

function box(size: Vec3): DrawnSolid {
  const [x, y, z] = size.map((side) => Math.abs(side) / 2);
  const faces = [0, 1, 2].flatMap((axis) =>
    [-1, 1].map((sign): DrawnFace => {
      const half = [x, y, z];
      const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
      const corner = (a: number, b: number): Vec3 => {
        const at = [0, 0, 0];
        [at[axis], at[u], at[v]] = [sign * half[axis], a * half[u], b * half[v]];
        return at as unknown as Vec3;
      };
      const out = [0, 0, 0];
      out[axis] = sign;
      return { out: out as unknown as Vec3, ring: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)] };
    }),
  );
  return { corners: faces.filter((_, idx) => idx < 2).flatMap((face) => face.ring), faces };
}

function ring(radius: number, z: number): Vec3[] {
  return Array.from({ length: STEPS }, (_, step): Vec3 => {
    const angle = (2 * Math.PI * step) / STEPS;
    return [radius * Math.cos(angle), radius * Math.sin(angle), z];
  });
}

/** A ball that is pulled apart along z by `half` each way. */
function ball(radius: number, half: number): Vec3[] {
  const rings = Array.from({ length: RINGS }, (_, k) => (Math.PI * (k + 1)) / (RINGS + 1) - Math.PI / 2);
  const points = rings.flatMap((rise) => {
    const z = radius * Math.sin(rise);
    const wide = radius * Math.cos(rise);
    return half > 0 && rise === 0 ? [...ring(wide, -half), ...ring(wide, half)] : ring(wide, z + Math.sign(z) * half);
  });
  return [...points, [0, 0, -radius - half], [0, 0, radius + half]];
}
