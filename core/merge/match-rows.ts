import { entryOf, valueOf, type Scalar, type TreeNode } from "../syntax/tree.ts";
import { likeness } from "./likeness.ts";
import type { Shapes } from "./shapes.ts";
import { saidOf } from "./said.ts";
import type { Merging } from "./merging.ts";
import type { Part } from "./part.ts";

/** The same part as each side has it. */
export interface Row {
  readonly base?: Part;
  readonly ours?: Part;
  readonly theirs?: Part;
}

type Which = keyof Row;

/** Most pairs of items that are looked at for likeness: beyond, only equal ones and those of a name are the same. */
const MAX_PAIRS = 250_000;

/** Fields of a map: the same by name. A key says its time by `at` or by `after`, which are one. */
export function matchFields(
  base: readonly Part[],
  ours: readonly Part[],
  theirs: readonly Part[],
  isKey: boolean,
): Row[] {
  const rows = new Map<string, Row>();
  const put = (which: Which, parts: readonly Part[]): void => {
    for (const part of parts) {
      const id = isKey && part.name === "after" ? "at" : part.name;
      rows.set(id, { ...rows.get(id), [which]: part });
    }
  };
  put("base", base);
  put("ours", ours);
  put("theirs", theirs);
  return [...rows.values()];
}

/** Items of a list: the same by name, else by what they say, else by likeness in their order. */
export function matchItems(
  base: readonly Part[],
  ours: readonly Part[],
  theirs: readonly Part[],
  shapes: Shapes,
  { timing }: Merging,
): Row[] {
  const alike = (one: Part, other: Part): number => likeness(one.node, other.node, shapes, timing);
  const [toOurs, toTheirs] = [pairs(base, ours, alike), pairs(base, theirs, alike)];
  const rows = base.map((part, i): Row => ({
    base: part,
    ...(toOurs.has(i) && { ours: ours[toOurs.get(i) as number] }),
    ...(toTheirs.has(i) && { theirs: theirs[toTheirs.get(i) as number] }),
  }));
  const [known, knownTheirs] = [new Set(toOurs.values()), new Set(toTheirs.values())];
  const added = ours.filter((_, i) => !known.has(i));
  const addedByThem = theirs.filter((_, i) => !knownTheirs.has(i));
  // Both added what says the same, or what has the same name: it is one.
  const both = pairs(added, addedByThem, (one, other) => (alike(one, other) === 1 ? 1 : 0));
  const knownAdded = new Set(both.values());
  return [
    ...rows,
    ...added.map((part, i): Row => ({
      ours: part,
      ...(both.has(i) && { theirs: addedByThem[both.get(i) as number] }),
    })),
    ...addedByThem.filter((_, i) => !knownAdded.has(i)).map((part): Row => ({ theirs: part })),
  ];
}

/** Which item of `to` each of `from` is. */
function pairs(
  from: readonly Part[],
  to: readonly Part[],
  alike: (one: Part, other: Part) => number,
): ReadonlyMap<number, number> {
  const out = new Map<number, number>();
  const taken = new Set<number>();
  const join = (i: number, j: number): void => void (out.set(i, j), taken.add(j));
  for (const idOf of [nameId, (part: Part) => saidOf(part.node)]) {
    const [ours, others] = [unique(from, idOf), unique(to, idOf)];
    for (const [id, i] of ours) {
      const j = others.get(id);
      if (j !== undefined && !out.has(i) && !taken.has(j)) join(i, j);
    }
  }
  const left = from.flatMap((_, i) => (out.has(i) ? [] : [i]));
  const right = to.flatMap((_, j) => (taken.has(j) ? [] : [j]));
  if (left.length * right.length > MAX_PAIRS) return out;
  for (const [i, j] of inOrder(left, right, (one, other) => alike(from[one], to[other]))) join(i, j);
  return out;
}

/** Positions by id, where no other item has it. */
function unique(parts: readonly Part[], idOf: (part: Part) => string | undefined): ReadonlyMap<string, number> {
  const out = new Map<string, number>();
  const doubled = new Set<string>();
  parts.forEach((part, i) => {
    const id = idOf(part);
    if (id === undefined) return;
    if (out.has(id)) doubled.add(id);
    out.set(id, i);
  });
  for (const id of doubled) out.delete(id);
  return out;
}

const nameId = (part: Part): string | undefined => {
  const name = nameOf(part.node);
  return name === undefined ? undefined : String(name).trim();
};

/** The name that an item gives itself; the link of a chain is named after its axis. */
export function nameOf(node: TreeNode | undefined): Scalar | undefined {
  const named = valueOf((entryOf(node, "name") ?? entryOf(node, "axis"))?.value);
  return named?.kind === "scalar" ? named.value : undefined;
}

/** The pairs, both in order, whose likeness sums up to the most. Pairs that are not alike at all are none. */
function inOrder(
  left: readonly number[],
  right: readonly number[],
  alike: (one: number, other: number) => number,
): readonly (readonly [number, number])[] {
  const like = left.map((i) => right.map((j) => alike(i, j)));
  const best = Array.from({ length: left.length + 1 }, () => new Float64Array(right.length + 1));
  for (let i = left.length - 1; 0 <= i; i--) {
    for (let j = right.length - 1; 0 <= j; j--) {
      const joined = 0 < like[i][j] ? like[i][j] + best[i + 1][j + 1] : 0;
      best[i][j] = Math.max(joined, best[i + 1][j], best[i][j + 1]);
    }
  }
  const out: [number, number][] = [];
  for (let i = 0, j = 0; i < left.length && j < right.length;) {
    if (0 < like[i][j] && best[i][j] === like[i][j] + best[i + 1][j + 1]) out.push([left[i++], right[j++]]);
    else if (best[i][j] === best[i + 1][j]) i += 1;
    else j += 1;
  }
  return out;
}
