import type { FileId } from "../base/span.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { inputDifference } from "./motion/input-difference.ts";
import type { SameNames } from "./fields/said-same.ts";

/** Pairs of indices, of the move before and of the move after, of what is the same thing on both sides. */
export interface SameThings {
  readonly axes: readonly (readonly [number, number])[];
  readonly targets: readonly (readonly [number, number])[];
  readonly turntables: readonly (readonly [number, number])[];
}

/**
 * What is the same axis, target and turntable on both sides: that of the same name; else, of axes and turntables, that at
 * the same position of a chain alike, and of targets, that in the same place.
 */
export function sameThings(before: ResolvedMove, after: ResolvedMove): SameThings {
  const isAlike = sameTypes(before.axes, after.axes);
  return {
    axes: pairs(before.axes, after.axes, (_a, _b, at, bt) => isAlike && at === bt),
    targets: pairs(before.targets, after.targets, isSamePlace),
    turntables: pairs(before.turntables, after.turntables, (_a, _b, at, bt) => isAlike && at === bt),
  };
}

/** Whether two chains have axes of the same types, one by one. */
const sameTypes = (before: ResolvedMove["axes"], after: ResolvedMove["axes"]): boolean =>
  before.length === after.length &&
  before.every(({ type, turntable }, idx) => type === after[idx].type && turntable === after[idx].turntable);

const isSamePlace = (a: ResolvedMove["targets"][number], b: ResolvedMove["targets"][number]): boolean =>
  inputDifference(a, b, (name) => name === "name" || name === "origin") === "same";

function pairs<T extends { readonly name: string }>(
  before: readonly T[],
  after: readonly T[],
  isAlike: (a: T, b: T, at: number, bt: number) => boolean,
): [number, number][] {
  const out: [number, number][] = [];
  const byName = new Map(after.map(({ name }, idx) => [name, idx]));
  const taken = new Set<number>();
  const left: number[] = [];
  before.forEach(({ name }, idx) => {
    const same = byName.get(name);
    if (same === undefined) left.push(idx);
    else {
      out.push([idx, same]);
      taken.add(same);
    }
  });
  for (const idx of left) {
    const same = after.findIndex((other, i) => !taken.has(i) && isAlike(before[idx], other, idx, i));
    if (same < 0) continue;
    taken.add(same);
    out.push([idx, same]);
  }
  return out.sort(([a], [b]) => a - b);
}

/** How names and files of the side before read on the side after. */
export function sameNames(
  before: ResolvedMove | undefined,
  after: ResolvedMove | undefined,
  files: ReadonlyMap<FileId, FileId>,
): SameNames {
  const axes = new Map<string, string>();
  const targets = new Map<string, string>();
  const turntables = new Map<string, string>();
  const lenses = new Map<string, string>();
  if (before && after) {
    const same = sameThings(before, after);
    for (const [a, b] of same.axes) note(axes, before.axes[a].name, after.axes[b].name);
    for (const [a, b] of same.targets) note(targets, before.targets[a].name, after.targets[b].name);
    for (const [a, b] of same.turntables) note(turntables, before.turntables[a].name, after.turntables[b].name);
    if (isSameLens(before, after)) note(lenses, before.optics.lensName, after.optics.lensName);
  }
  const byKind = { axis: axes, target: targets, turntable: turntables, lens: lenses };
  return {
    name: (kind, name) => (kind in byKind ? byKind[kind as keyof typeof byKind].get(name) : undefined) ?? name,
    file: (file) => files.get(file) ?? file,
    isPlain: axes.size + targets.size + turntables.size + lenses.size + files.size === 0,
  };
}

/** Whether a lens is the same one but for its name. */
const isSameLens = ({ optics: was }: ResolvedMove, { optics: is }: ResolvedMove): boolean =>
  inputDifference(was, is, (name) => /[oO]rigins?$|^(?:lensName|slopes|nodes)$/.test(name)) === "same";

function note(names: Map<string, string>, before: string, after: string): void {
  if (before !== after) names.set(before, after);
}
