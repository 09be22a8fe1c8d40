import { saysSame, sameNumber, type SameNames } from "../fields/said-same.ts";
import type { ReadKey } from "./read-keys.ts";

/** A key of both sides, or of one. */
export interface KeyPair {
  readonly before?: ReadKey;
  readonly after?: ReadKey;
}

/** Most pairs of keys that are weighed against each other; beyond, keys are matched by their time alone. */
const MOST_PAIRS = 250_000;

/** What it costs to leave a key without a match: two of them cost as much as a match may. */
const ALONE = 1;

/** What a move by the time between two keys costs, where all that a key gives costs 1. */
const MOVED = 0.7;

/** What another name costs: such keys are one only where time and content agree for the most part. */
const OTHER_NAME = 1.25;

/**
 * Which key before is which key after: keys of one name; of the others, in their order, those whose times and contents are
 * nearest.
 */
export function matchKeys(before: readonly ReadKey[], after: readonly ReadKey[], names: SameNames): KeyPair[] {
  const pairs: KeyPair[] = [];
  const named = new Map(after.flatMap((key): [string, ReadKey][] => (key.name === undefined ? [] : [[key.name, key]])));
  const taken = new Set<ReadKey>();
  for (const key of before) {
    const same = key.name === undefined ? undefined : named.get(key.name);
    if (!same || taken.has(same)) continue;
    pairs.push({ before: key, after: same });
    taken.add(key).add(same);
  }
  const left = (keys: readonly ReadKey[]): ReadKey[] => keys.filter((key) => !taken.has(key));
  pairs.push(...inOrder(left(before), left(after), names));
  const timeOf = ({ before: was, after: is }: KeyPair): number => {
    const times = [is?.played, was?.played].filter((time) => time !== undefined && !Number.isNaN(time));
    return times[0] ?? Infinity;
  };
  return pairs.sort((a, b) => timeOf(a) - timeOf(b));
}

/** Keys that no name matches. What is the same at both ends is taken first, so that a long move costs what is changed in it. */
function inOrder(before: readonly ReadKey[], after: readonly ReadKey[], names: SameNames): KeyPair[] {
  const shorter = Math.min(before.length, after.length);
  let head = 0;
  while (head < shorter && isSameKey(before[head], after[head], names)) head++;
  let tail = 0;
  while (tail < shorter - head && isSameKey(before[before.length - 1 - tail], after[after.length - 1 - tail], names))
    tail++;
  const ends = [
    ...before.slice(0, head).map((key, idx) => ({ before: key, after: after[idx] })),
    ...before.slice(before.length - tail).map((key, idx) => ({ before: key, after: after[after.length - tail + idx] })),
  ];
  const [was, is] = [before.slice(head, before.length - tail), after.slice(head, after.length - tail)];
  const middle = was.length * is.length <= MOST_PAIRS ? aligned(was, is, names) : byTime(was, is);
  return [...ends, ...middle];
}

const isSameKey = (a: ReadKey, b: ReadKey, names: SameNames): boolean =>
  sameTime(a, b) && a.name === b.name && contentCost(a, b, names) === 0;

const sameTime = (a: ReadKey, b: ReadKey): boolean => sameNumber(a.written, b.written);

/** The cheapest alignment that keeps the order, by dynamic programming over both lists. */
function aligned(before: readonly ReadKey[], after: readonly ReadKey[], names: SameNames): KeyPair[] {
  const [n, m] = [before.length, after.length];
  const width = m + 1;
  const best = new Float64Array((n + 1) * width);
  for (let i = 0; i <= n; i++) best[i * width + m] = (n - i) * ALONE;
  for (let j = 0; j <= m; j++) best[n * width + j] = (m - j) * ALONE;
  const unit = spacing(before, after);
  const costs = new Float64Array(n * m);
  for (let i = n - 1; i >= 0; i--) {
    for (let j = m - 1; j >= 0; j--) {
      costs[i * m + j] = matchCost(before[i], after[j], unit, names);
      const match = costs[i * m + j] + best[(i + 1) * width + j + 1];
      best[i * width + j] = Math.min(match, ALONE + best[(i + 1) * width + j], ALONE + best[i * width + j + 1]);
    }
  }
  const pairs: KeyPair[] = [];
  let [i, j] = [0, 0];
  while (i < n && j < m) {
    const here = best[i * width + j];
    if (here === costs[i * m + j] + best[(i + 1) * width + j + 1])
      pairs.push({ before: before[i++], after: after[j++] });
    else if (here === ALONE + best[(i + 1) * width + j]) pairs.push({ before: before[i++] });
    else pairs.push({ after: after[j++] });
  }
  while (i < n) pairs.push({ before: before[i++] });
  while (j < m) pairs.push({ after: after[j++] });
  return pairs;
}

/** Time between two keys, about [s]: by how much a key may move and be the same one still. */
function spacing(before: readonly ReadKey[], after: readonly ReadKey[]): number {
  const times = [...before, ...after].map(({ written }) => written).filter(Number.isFinite);
  const span = Math.max(...times) - Math.min(...times);
  return span > 0 ? Math.max(0.5, (2 * span) / times.length) : 1;
}

function matchCost(a: ReadKey, b: ReadKey, unit: number, names: SameNames): number {
  const time = Math.abs(a.written - b.written) / unit;
  const other = a.name !== undefined && b.name !== undefined ? OTHER_NAME : 0;
  const when = MOVED * (Number.isNaN(time) ? 1 : Math.min(1, time));
  const cost = when + other < 2 * ALONE ? when + other + contentCost(a, b, names) : Infinity;
  return cost < 2 * ALONE ? cost : Infinity;
}

/** The share of what two keys give that is another, 0..1. */
function contentCost(a: ReadKey, b: ReadKey, names: SameNames): number {
  if (names.isPlain && a.text === b.text) return 0;
  const [was, is] = [a.said().fields, b.said().fields];
  const paths = new Set([...was.keys(), ...is.keys()]);
  if (paths.size === 0) return 0;
  let differing = 0;
  for (const path of paths) {
    const [one, other] = [was.get(path), is.get(path)];
    const [from, to] = [one?.said ?? other?.fallback, other?.said ?? one?.fallback];
    if (!from || !to || !saysSame(from, to, names)) differing += 1;
  }
  return differing / paths.size;
}

/** For lists too long to weigh: two keys are one where their times are. */
function byTime(before: readonly ReadKey[], after: readonly ReadKey[]): KeyPair[] {
  const pairs: KeyPair[] = [];
  let [i, j] = [0, 0];
  while (i < before.length && j < after.length) {
    const [a, b] = [before[i], after[j]];
    if (sameTime(a, b) || Number.isNaN(a.written) || Number.isNaN(b.written)) {
      pairs.push({ before: a, after: b });
      i += 1;
      j += 1;
    } else if (a.written < b.written) pairs.push({ before: before[i++] });
    else pairs.push({ after: after[j++] });
  }
  while (i < before.length) pairs.push({ before: before[i++] });
  while (j < after.length) pairs.push({ after: after[j++] });
  return pairs;
}
