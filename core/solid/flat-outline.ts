/**
 * The corners of points that lie on a plane, a line or one place (Andrew's monotone chain, 1979).
 *
 * @param points  Shape (n, 3).
 * @param corners One to three of them that span what they lie on.
 * @param most    Corners at most, 3 or more: of more, every so many-th is taken.
 * @returns Numbers of points.
 */
export function flatOutline(points: Float64Array, corners: readonly number[], most: number): readonly number[] {
  if (corners.length < 3) return corners;
  const [from, to, third] = corners;
  const edge = (at: number): number[] => [0, 1, 2].map((k) => points[3 * at + k] - points[3 * from + k]);
  const dot = (a: readonly number[], b: readonly number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const u = edge(to);
  const size = Math.sqrt(dot(u, u));
  const along = u.map((value) => value / size);
  const w = edge(third);
  const share = dot(w, along);
  const up = w.map((value, k) => value - share * along[k]);
  const height = Math.sqrt(dot(up, up));
  const across = up.map((value) => value / height);
  const places = Array.from({ length: points.length / 3 }, (_, at) => {
    const offset = edge(at);
    return { at, x: dot(offset, along), y: dot(offset, across) };
  });
  places.sort((a, b) => a.x - b.x || a.y - b.y || a.at - b.at);
  const slack = STRAIGHT * size;
  const outline = [...halfOutline(places, slack), ...halfOutline(places.reverse(), slack)];
  const step = Math.ceil(outline.length / most);
  return outline.filter((_, idx) => idx % step === 0);
}

/** Of the size: a corner that stands out by less from the line of its neighbours is none. */
const STRAIGHT = 1e-9;

interface Place {
  readonly at: number;
  readonly x: number;
  readonly y: number;
}

/** One side from the first place to the last, which the other side begins with. */
function halfOutline(places: readonly Place[], slack: number): number[] {
  const chain: Place[] = [];
  for (const place of places) {
    while (chain.length > 1) {
      const a = chain[chain.length - 2];
      const b = chain[chain.length - 1];
      const turn = (b.x - a.x) * (place.y - a.y) - (b.y - a.y) * (place.x - a.x);
      if (turn > slack * Math.hypot(place.x - a.x, place.y - a.y)) break;
      chain.pop();
    }
    chain.push(place);
  }
  return chain.slice(0, -1).map(({ at }) => at);
}
