import { heightOver, type Polytope } from "./polytope.ts";

/** Points that stand out of a growing body, each kept with the face that it stands out of the most. */
export interface Crowd {
  /** The point that stands out the most of all; its height is 0 when none does. */
  farthest(): { readonly face: number; readonly point: number; readonly height: number };
  /** After the body grew: hands the points of faces that are gone to those that were made. */
  follow(): void;
  /** Looks at a point no more, though it stands out. */
  leave(face: number, point: number): void;
  /** All points that stand out, those that were left too, each with its face. */
  rest(): { readonly points: Int32Array; readonly faces: Int32Array };
}

const NONE = -1;

/** @param points Shape (n, 3). */
export function createCrowd(polytope: Polytope, points: Float64Array): Crowd {
  const count = points.length / 3;
  /** The points of a face are a chain: its first, and the next of each. */
  const first = new Int32Array(polytope.alive.length).fill(NONE);
  const next = new Int32Array(count).fill(NONE);
  const height = new Float64Array(count);
  const left: number[] = [];

  /** Gives a point to the one of some faces that it stands out of the most; it is inside when there is none. */
  const claim = (point: number, faces: Int32Array, facesCount: number): void => {
    let most = 0;
    let owner = NONE;
    for (let i = 0; i < facesCount; i++) {
      const out = heightOver(polytope, faces[i], points[3 * point], points[3 * point + 1], points[3 * point + 2]);
      if (!(out > most)) continue;
      most = out;
      owner = faces[i];
    }
    if (owner === NONE) return;
    height[point] = most;
    const head = first[owner];
    // The highest stands first, so that it is found at once.
    if (head !== NONE && height[head] >= most) {
      next[point] = next[head];
      next[head] = point;
    } else {
      next[point] = head;
      first[owner] = point;
    }
  };

  const all = Int32Array.from({ length: polytope.faces }, (_, idx) => idx);
  for (let point = 0; point < count; point++) claim(point, all, all.length);

  return {
    farthest() {
      let face = NONE;
      for (let one = 0; one < polytope.faces; one++) {
        if (polytope.alive[one] === 0 || first[one] === NONE) continue;
        if (face === NONE || height[first[one]] > height[first[face]]) face = one;
      }
      return face === NONE
        ? { face, point: NONE, height: 0 }
        : { face, point: first[face], height: height[first[face]] };
    },
    follow() {
      // Faces that were made may stand in the places of those that are gone: all are emptied first.
      const heads = Array.from(polytope.gone.subarray(0, polytope.goneCount), (face) => first[face]);
      for (let i = 0; i < polytope.goneCount; i++) first[polytope.gone[i]] = NONE;
      for (const head of heads) {
        for (let point = head; point !== NONE;) {
          const after = next[point];
          claim(point, polytope.made, polytope.madeCount);
          point = after;
        }
      }
    },
    leave(face, point) {
      left.push(point);
      const rest: number[] = [];
      for (let one = next[point]; one !== NONE; one = next[one]) rest.push(one);
      first[face] = NONE;
      const only = Int32Array.of(face);
      for (const one of rest) claim(one, only, 1);
    },
    rest() {
      const rest: [number, number][] = left.map((point) => [point, anyFace(polytope)]);
      for (let face = 0; face < polytope.faces; face++) {
        if (polytope.alive[face] === 0) continue;
        for (let point = first[face]; point !== NONE; point = next[point]) rest.push([point, face]);
      }
      return {
        points: Int32Array.from(rest, ([point]) => point),
        faces: Int32Array.from(rest, ([, face]) => face),
      };
    },
  };
}

/** For points whose own face may be gone: the distance to any face is a bound of that to the body. */
function anyFace({ alive, faces }: Polytope): number {
  for (let face = 0; face < faces; face++) if (alive[face] === 1) return face;
  return 0;
}
