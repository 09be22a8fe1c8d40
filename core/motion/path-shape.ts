import { add, cross, dot, length, normalise, scale, subtract, type Vec3 } from "../base/vec3.ts";
import type { PathPiece, PathShape } from "./path-piece.ts";

/** A way between two places before it has its stretch of u. */
export interface Way {
  /** Target that its offsets count from, -1 for the set's origin. */
  readonly frame: number;
  /** [m] */
  readonly length: number;
  /** The shape for a stretch that begins at u = `start`. */
  readonly shape: PathShape;
  /** Why the arc that was asked for cannot be: the way is then straight. */
  readonly fault?: WayFault;
}

export type WayFault =
  /** Start, end and the point between them are on one line, or two of them are one. */
  | "via-straight"
  /** Start or end is on the arc's axis. */
  | "on-axis"
  /** Start and end lie the same way from the axis, so there is no angle to go round. */
  | "no-angle"
  /** It ends where it begins. */
  | "no-length";

/** Shorter than this [m] is no way. */
export const LEAST_WAY = 1e-9;
/** Three points whose triangle is this flat [rad] make no circle that means anything. */
const FLAT = 1e-6;
/** Nearer to half a turn, or to none, than this [rad] is exactly that. */
const LEAST_ANGLE = 1e-9;

/** The straight way. One of no length stays where it is. */
export function straightWay(from: Vec3, to: Vec3, fault?: WayFault): Way {
  const size = length(subtract(to, from));
  const rise = subtract(to, from);
  const coefficients = Float64Array.from([0, 1, 2].flatMap((axis) => [from[axis], rise[axis]]));
  return { frame: -1, length: size, shape: { kind: "polynomial", degree: 1, coefficients }, ...(fault && { fault }) };
}

/** Along the circle through three places, by way of the middle one. */
export function wayVia(from: Vec3, via: Vec3, to: Vec3): Way {
  const [a, b] = [subtract(via, from), subtract(to, from)];
  const normal = cross(a, b);
  const size = length(normal);
  if (!(FLAT * length(a) * length(b) < size) || length(subtract(to, via)) <= LEAST_WAY) {
    return straightWay(from, to, "via-straight");
  }
  const along = scale(normal, 1 / size);
  // The centre is as far from all three: from `from` it is (|a|² b - |b|² a) × n / (2 |n|²).
  const mixed = subtract(scale(b, dot(a, a)), scale(a, dot(b, b)));
  const toCentre = scale(cross(mixed, normal), 1 / (2 * size * size));
  const centre = add(from, toCentre);
  const radius = length(toCentre);
  const first = scale(toCentre, -1 / radius);
  const second = cross(along, first);
  const end = subtract(to, centre);
  const angle = Math.atan2(dot(end, second), dot(end, first));
  const turned = angle < 0 ? angle + 2 * Math.PI : angle;
  const turn = { kind: "turn", centre, along, first, second, turn: 1 / radius, radius, widen: 0, rise: 0 } as const;
  return { frame: -1, length: radius * turned, shape: turn };
}

/** Where the target of an arc stands when the way begins and when it ends [m], and the direction of its axis. */
export interface About {
  readonly target: number;
  readonly start: Vec3;
  readonly end: Vec3;
  /** Unit. */
  readonly along: Vec3;
}

/**
 * About a target, seen from where that is at each instant: the shorter way round, at exactly half a turn right-hand about
 * `along`; distance from the axis and height along it change evenly with the angle.
 */
export function wayAbout(from: Vec3, to: Vec3, { target, start, end, along }: About): Way {
  const [a, b] = [subtract(from, start), subtract(to, end)];
  const [low, high] = [dot(a, along), dot(b, along)];
  const [out, there] = [subtract(a, scale(along, low)), subtract(b, scale(along, high))];
  const [near, far] = [length(out), length(there)];
  const first = normalise(out);
  if (!first || near <= LEAST_WAY || far <= LEAST_WAY) return straightWay(from, to, "on-axis");
  const second = cross(along, first);
  const turned = Math.atan2(dot(there, second), dot(there, first));
  if (Math.abs(turned) < LEAST_ANGLE) return straightWay(from, to, "no-angle");
  const angle = Math.PI - Math.abs(turned) < LEAST_ANGLE ? Math.PI : turned;
  const size = spiralLength(near, far, high - low, Math.abs(angle));
  return {
    frame: target,
    length: size,
    shape: {
      kind: "turn",
      centre: scale(along, low),
      along,
      first,
      second,
      turn: angle / size,
      radius: near,
      widen: (far - near) / size,
      rise: (high - low) / size,
    },
  };
}

/** Length of a way whose radius and height go evenly with the angle, by Simpson's rule; exact for a circle. */
function spiralLength(near: number, far: number, rise: number, angle: number): number {
  const parts = 256;
  const even = Math.hypot(far - near, rise) / angle;
  let sum = 0;
  for (let i = 0; i <= parts; i++) {
    const radius = near + ((far - near) * i) / parts;
    sum += (i === 0 || i === parts ? 1 : i % 2 === 1 ? 4 : 2) * Math.hypot(radius, even);
  }
  return (sum * angle) / (3 * parts);
}

/** A way as a piece that begins at u = `start` [m]. One without length stays where it is whatever u. */
export function pieceOf(way: Way, start: number): PathPiece {
  const { frame } = way;
  if (LEAST_WAY < way.length) {
    return { start, end: start + way.length, from: frame, to: frame, shape: way.shape };
  }
  const still = way.shape.kind === "polynomial" ? way.shape.coefficients.filter((_, i) => i % 2 === 0) : [0, 0, 0];
  const shape = { kind: "polynomial", degree: 0, coefficients: Float64Array.from(still) } as const;
  return { start, end: start + 1, from: frame, to: frame, shape };
}
