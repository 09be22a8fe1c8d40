import type { Descent, DescentRoom } from "./descent.ts";
import { ROOM } from "./series.ts";

const THING = 3 * ROOM;

/**
 * Takes all things down steps 0..`to` - 1, orders 0 to `order` (at most 4) at once: what `descendTerm` does order by order,
 * for the joints whose series are known. Series products are written out: this is the innermost loop of sampling.
 */
export function descendAll(descent: Descent, room: DescentRoom, to: number, order: number): void {
  const { rotation: n, origin: o, turns } = descent;
  const { place: x, turned: y, sin, cos, q, things, points } = room;
  for (let i = 0; i < to; i++) {
    const i9 = 9 * i;
    const i3 = 3 * i;
    const t = i * ROOM;
    const n0 = n[i9];
    const n1 = n[i9 + 1];
    const n2 = n[i9 + 2];
    const n3 = n[i9 + 3];
    const n4 = n[i9 + 4];
    const n5 = n[i9 + 5];
    const n6 = n[i9 + 6];
    const n7 = n[i9 + 7];
    const n8 = n[i9 + 8];
    const turning = turns[i] === 1;
    for (let p = 0; p < things; p++) {
      const at = (i * things + p) * THING;
      const next = at + things * THING;
      const u = turning ? at : next;
      const out = turning ? y : x;
      for (let k = 0; k <= order; k++) {
        let a = x[at + k];
        let b = x[at + ROOM + k];
        let c = x[at + 2 * ROOM + k];
        if (k === 0 && p < points) {
          a -= o[i3];
          b -= o[i3 + 1];
          c -= o[i3 + 2];
        }
        out[u + k] = n0 * a + n1 * b + n2 * c;
        out[u + ROOM + k] = n3 * a + n4 * b + n5 * c;
        x[next + 2 * ROOM + k] = n6 * a + n7 * b + n8 * c;
      }
      if (turning) turnSeries(sin, cos, t, y, at, x, next, order);
      else if (p < points) for (let k = 0; k <= order; k++) x[next + 2 * ROOM + k] -= q[t + k];
    }
  }
}

/** (cos · u + sin · v, cos · v - sin · u) of two series u, v. */
function turnSeries(
  sin: Float64Array,
  cos: Float64Array,
  t: number,
  y: Float64Array,
  at: number,
  x: Float64Array,
  next: number,
  order: number,
): void {
  const v = at + ROOM;
  const w = next + ROOM;
  const c0 = cos[t];
  const s0 = sin[t];
  const u0 = y[at];
  const v0 = y[v];
  x[next] = c0 * u0 + s0 * v0;
  x[w] = c0 * v0 - s0 * u0;
  if (order < 1) return;
  const c1 = cos[t + 1];
  const s1 = sin[t + 1];
  const u1 = y[at + 1];
  const v1 = y[v + 1];
  x[next + 1] = c0 * u1 + c1 * u0 + s0 * v1 + s1 * v0;
  x[w + 1] = c0 * v1 + c1 * v0 - s0 * u1 - s1 * u0;
  if (order < 2) return;
  const c2 = cos[t + 2];
  const s2 = sin[t + 2];
  const u2 = y[at + 2];
  const v2 = y[v + 2];
  x[next + 2] = c0 * u2 + c1 * u1 + c2 * u0 + s0 * v2 + s1 * v1 + s2 * v0;
  x[w + 2] = c0 * v2 + c1 * v1 + c2 * v0 - s0 * u2 - s1 * u1 - s2 * u0;
  if (order < 3) return;
  const c3 = cos[t + 3];
  const s3 = sin[t + 3];
  const u3 = y[at + 3];
  const v3 = y[v + 3];
  x[next + 3] = c0 * u3 + c1 * u2 + c2 * u1 + c3 * u0 + s0 * v3 + s1 * v2 + s2 * v1 + s3 * v0;
  x[w + 3] = c0 * v3 + c1 * v2 + c2 * v1 + c3 * v0 - s0 * u3 - s1 * u2 - s2 * u1 - s3 * u0;
  if (order < 4) return;
  const c4 = cos[t + 4];
  const s4 = sin[t + 4];
  const u4 = y[at + 4];
  const v4 = y[v + 4];
  x[next + 4] = c0 * u4 + c1 * u3 + c2 * u2 + c3 * u1 + c4 * u0 + s0 * v4 + s1 * v3 + s2 * v2 + s3 * v1 + s4 * v0;
  x[w + 4] = c0 * v4 + c1 * v3 + c2 * v2 + c3 * v1 + c4 * v0 - s0 * u4 - s1 * u3 - s2 * u2 - s3 * u1 - s4 * u0;
}
