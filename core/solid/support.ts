import type { Convex } from "./convex.ts";

/**
 * Writes the point of a body's core that lies farthest in a direction, in the body's own frame. The rounding is not in it.
 *
 * @param x, y, z Direction, of any length; the zero direction gives some point of the core.
 * @param out     The point goes to `out[at]`, `out[at + 1]`, `out[at + 2]` [m].
 */
export function supportOf(body: Convex, x: number, y: number, z: number, out: Float64Array, at: number): void {
  switch (body.core) {
    case "point":
      out[at] = 0;
      out[at + 1] = 0;
      out[at + 2] = 0;
      return;
    case "segment":
      out[at] = 0;
      out[at + 1] = 0;
      out[at + 2] = z < 0 ? -body.z : body.z;
      return;
    case "box":
      out[at] = x < 0 ? -body.x : body.x;
      out[at + 1] = y < 0 ? -body.y : body.y;
      out[at + 2] = z < 0 ? -body.z : body.z;
      return;
    case "cylinder": {
      const across = Math.sqrt(x * x + y * y);
      const share = across > 0 ? body.x / across : 0;
      out[at] = x * share;
      out[at + 1] = y * share;
      out[at + 2] = z < 0 ? -body.z : body.z;
      return;
    }
    case "points": {
      const { points } = body;
      let best = 0;
      let most = -Infinity;
      for (let i = 0; i < points.length; i += 3) {
        const along = points[i] * x + points[i + 1] * y + points[i + 2] * z;
        if (along > most) {
          most = along;
          best = i;
        }
      }
      out[at] = points[best];
      out[at + 1] = points[best + 1];
      out[at + 2] = points[best + 2];
      return;
    }
  }
}
