/** Rows that stand between two rows which both sides have, and the row of both that follows; absent at the end. */
export interface Gap {
  readonly ours: readonly number[];
  readonly theirs: readonly number[];
  readonly then: number | undefined;
}

/**
 * The order of the parts of a merged map or list, from that of the sides. What both have goes as the side has it that
 * reordered; what only one has stays behind what it follows there. `undefined` where both reordered in two ways.
 */
export function mergeOrder(
  base: readonly number[],
  ours: readonly number[],
  theirs: readonly number[],
): readonly Gap[] | undefined {
  const [inBase, inOurs, inTheirs] = [new Set(base), new Set(ours), new Set(theirs)];
  const shared = (rows: readonly number[]): number[] => rows.filter((row) => inOurs.has(row) && inTheirs.has(row));
  const old = (rows: readonly number[]): number[] => shared(rows).filter((row) => inBase.has(row));
  let main = shared(ours);
  if (!isEqual(main, shared(theirs))) {
    if (isEqual(old(ours), shared(base))) main = shared(theirs);
    else if (!isEqual(old(theirs), shared(base))) return undefined;
  }
  const [behindOurs, behindTheirs] = [behind(ours, inTheirs), behind(theirs, inOurs)];
  return [undefined, ...main].map((row, i) => ({
    ours: behindOurs.get(row) ?? [],
    theirs: behindTheirs.get(row) ?? [],
    then: main[i],
  }));
}

const isEqual = (one: readonly number[], other: readonly number[]): boolean =>
  one.length === other.length && one.every((row, i) => row === other[i]);

/** Rows that the other side lacks, by the row of both that they follow. */
function behind(rows: readonly number[], other: ReadonlySet<number>): ReadonlyMap<number | undefined, number[]> {
  const out = new Map<number | undefined, number[]>();
  let anchor: number | undefined;
  for (const row of rows) {
    if (other.has(row)) anchor = row;
    else out.set(anchor, [...(out.get(anchor) ?? []), row]);
  }
  return out;
}
