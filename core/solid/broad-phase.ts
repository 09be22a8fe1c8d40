/** Bodies that stand still, found by where they are. */
export interface ObstacleIndex {
  readonly count: number;
  /**
   * Calls `visit` with the number of each body whose box comes within `radius` of a point, once each, in an order that
   * depends on the boxes alone. It allocates nothing.
   *
   * @param centre Shape (3,) [m].
   * @param radius 0 or more [m].
   */
  near(centre: ArrayLike<number>, radius: number, visit: (obstacle: number) => void): void;
}

/** Bodies a leaf: below this, looking at each costs less than a fork. */
const MOST_IN_LEAF = 4;

/**
 * A tree of boxes over the boxes of bodies.
 *
 * @param bounds Shape (n, 6): low x, y, z and high x, y, z of each body, as `placeBounds` writes them [m].
 */
export function createObstacleIndex(bounds: Float64Array): ObstacleIndex {
  const count = bounds.length / 6;
  const order = Int32Array.from({ length: count }, (_, idx) => idx);
  const nodes: { box: readonly number[]; begin: number; end: number; next: number }[] = [];
  build(bounds, order, 0, count, nodes);
  // In the order of a walk that goes down first: a node that is passed over leads to the one after all below it.
  const box = Float64Array.from(nodes.flatMap((node) => node.box));
  const begin = Int32Array.from(nodes, (node) => node.begin);
  const end = Int32Array.from(nodes, (node) => node.end);
  const next = Int32Array.from(nodes, (node) => node.next);
  return {
    count,
    near(centre, radius, visit) {
      const x = centre[0];
      const y = centre[1];
      const z = centre[2];
      const square = radius * radius;
      let node = 0;
      while (node < next.length) {
        if (squareTo(box, 6 * node, x, y, z) > square) {
          node = next[node];
          continue;
        }
        for (let i = begin[node]; i < end[node]; i++) {
          if (squareTo(bounds, 6 * order[i], x, y, z) <= square) visit(order[i]);
        }
        node += 1;
      }
    },
  };
}

/** Squared distance from a point to a box, 0 inside. */
function squareTo(box: Float64Array, at: number, x: number, y: number, z: number): number {
  const u = Math.max(box[at] - x, 0, x - box[at + 3]);
  const v = Math.max(box[at + 1] - y, 0, y - box[at + 4]);
  const w = Math.max(box[at + 2] - z, 0, z - box[at + 5]);
  return u * u + v * v + w * w;
}

function build(
  bounds: Float64Array,
  order: Int32Array,
  begin: number,
  end: number,
  nodes: { box: readonly number[]; begin: number; end: number; next: number }[],
): void {
  if (begin === end) return;
  const box = around(bounds, order, begin, end);
  const isLeaf = end - begin <= MOST_IN_LEAF;
  const node = { box, begin, end: isLeaf ? end : begin, next: 0 };
  nodes.push(node);
  if (!isLeaf) {
    const axis = longest(bounds, order, begin, end);
    const middle = (i: number): number => bounds[6 * i + axis] + bounds[6 * i + axis + 3];
    order.subarray(begin, end).sort((i, j) => middle(i) - middle(j) || i - j);
    const half = (begin + end) >> 1;
    build(bounds, order, begin, half, nodes);
    build(bounds, order, half, end, nodes);
  }
  node.next = nodes.length;
}

function around(bounds: Float64Array, order: Int32Array, begin: number, end: number): number[] {
  const box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (const i of order.subarray(begin, end)) {
    for (let k = 0; k < 3; k++) {
      box[k] = Math.min(box[k], bounds[6 * i + k]);
      box[k + 3] = Math.max(box[k + 3], bounds[6 * i + k + 3]);
    }
  }
  return box;
}

/** The axis along which the boxes' middles are spread the most. */
function longest(bounds: Float64Array, order: Int32Array, begin: number, end: number): number {
  const spread = [0, 1, 2].map((axis) => {
    let low = Infinity;
    let high = -Infinity;
    for (const i of order.subarray(begin, end)) {
      const middle = bounds[6 * i + axis] + bounds[6 * i + axis + 3];
      low = Math.min(low, middle);
      high = Math.max(high, middle);
    }
    return high - low;
  });
  return spread.indexOf(Math.max(...spread));
}
