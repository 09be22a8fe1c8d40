import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import type { AnalysisMemo } from "../checks/memo.ts";
import { documentKind } from "../model/document-kind.ts";
import type { Sources } from "../model/sources.ts";
import { inputsReader, type Inputs } from "./inputs-of.ts";
import { isSameSource } from "./same-source.ts";

/** One side of a change of a workspace. */
export interface ReviewedSources {
  readonly sources: Sources;
  readonly memo: AnalysisMemo;
  /** Documents of all kinds that are looked at. */
  readonly documents: readonly FileId[];
}

/** A move that the change may do something to. Plain data. */
export interface MoveJob {
  readonly before?: FileId;
  readonly after?: FileId;
  /** Files that it needs and that changed, its own aside. */
  readonly causes: readonly FileId[];
}

/** Another document, or a file that documents name, that changed or may have other findings. Plain data. */
export interface DocumentJob {
  readonly before?: FileId;
  readonly after?: FileId;
  /** Moves that use it. */
  readonly moves: readonly FileId[];
}

/** What there is to look at, each by itself and in any order. */
export interface ReviewPlan {
  readonly moves: readonly MoveJob[];
  readonly documents: readonly DocumentJob[];
  /** Files that must be read on either side before the plan is whole: then plan again. */
  readonly unread: readonly FileId[];
}

/**
 * Finds what a change of a workspace touches: documents that it changes, and those that need a file which it changes, a
 * config, a mesh or a file that is not there included.
 *
 * @param renames Files that were renamed, from before to after.
 */
export function* planReview(
  before: ReviewedSources,
  after: ReviewedSources,
  renames: ReadonlyMap<FileId, FileId> = new Map(),
): Task<ReviewPlan> {
  const unread = new Set<FileId>();
  const backwards = new Map([...renames].map(([was, is]) => [is, was]));
  const isChanged = changeTest(before.sources, after.sources, (file) => backwards.get(file) ?? file);
  const readers = {
    before: inputsReader(before.sources, before.memo),
    after: inputsReader(after.sources, after.memo),
  };
  const uses = new Map<FileId, Set<FileId>>();
  const moves: MoveJob[] = [];
  const touched: Touched[] = [];
  for (const pair of pairsOf(before, after, renames)) {
    const inputs = inputsOf(pair, readers, isChanged, (file) => renames.get(file) ?? file, unread);
    const file = pair.after ?? pair.before ?? "";
    const isMove = documentKind(file)?.kind === "move";
    if (isMove) for (const input of inputs) setOf(uses, input).add(file);
    const changed = inputs.filter(isChanged);
    const isOther = pair.before === undefined || pair.after === undefined || pair.before !== pair.after;
    const causes = changed.filter((input) => input !== file).sort();
    if (isMove && (isOther || changed.length > 0)) moves.push({ ...pair, causes });
    if (!isMove && (isOther || changed.length > 0)) touched.push({ ...pair, causes });
    yield;
  }
  const documents = [...touched, ...filesBeside(uses, touched, isChanged, before, after, backwards)];
  const withMoves = documents.map(({ causes: _, ...pair }): DocumentJob => {
    return { ...pair, moves: [...(uses.get(pair.after ?? pair.before ?? "") ?? [])].sort() };
  });
  return { moves: moves.sort(byFile), documents: withMoves.sort(byFile), unread: [...unread] };
}

interface Pair {
  readonly before?: FileId;
  readonly after?: FileId;
}

interface Touched extends Pair {
  readonly causes: readonly FileId[];
}

const byFile = (a: Pair, b: Pair): number => ((a.after ?? a.before ?? "") < (b.after ?? b.before ?? "") ? -1 : 1);

function setOf(sets: Map<FileId, Set<FileId>>, file: FileId): Set<FileId> {
  const known = sets.get(file);
  if (known) return known;
  const made = new Set<FileId>();
  sets.set(file, made);
  return made;
}

/** Whether a file, by its name after, holds something else than before. */
function changeTest(before: Sources, after: Sources, nameBefore: (file: FileId) => FileId): (file: FileId) => boolean {
  const known = new Map<FileId, boolean>();
  return (file) => {
    const found = known.get(file) ?? !isSameSource(before.read(nameBefore(file)), after.read(file));
    known.set(file, found);
    return found;
  };
}

/** Documents of both sides, or of one. */
function pairsOf(before: ReviewedSources, after: ReviewedSources, renames: ReadonlyMap<FileId, FileId>): Pair[] {
  const left = new Set(after.documents);
  const pairs = before.documents.map((file): Pair => {
    const now = renames.get(file) ?? file;
    return left.delete(now) ? { before: file, after: now } : { before: file };
  });
  return [...pairs, ...[...left].map((file): Pair => ({ after: file }))];
}

/** Files that a document needs on either side, by their names after. Only if one of them changed, the side before has others. */
function inputsOf(
  pair: Pair,
  readers: Readonly<Record<"before" | "after", (file: FileId) => Inputs>>,
  isChanged: (file: FileId) => boolean,
  nameAfter: (file: FileId) => FileId,
  unread: Set<FileId>,
): FileId[] {
  const inputs = new Set<FileId>();
  const add = (found: Inputs, name: (file: FileId) => FileId): void => {
    for (const input of found.inputs) inputs.add(name(input));
    for (const input of found.unread) unread.add(input);
  };
  if (pair.after !== undefined) add(readers.after(pair.after), (file) => file);
  const isSame = pair.after === pair.before && ![...inputs].some(isChanged);
  if (pair.before !== undefined && !isSame) add(readers.before(pair.before), nameAfter);
  return [...inputs];
}

/** Files that changed and that moves need, though nobody listed them: meshes, pictures, URDF files, documents elsewhere. */
function filesBeside(
  uses: ReadonlyMap<FileId, ReadonlySet<FileId>>,
  touched: readonly Pair[],
  isChanged: (file: FileId) => boolean,
  before: ReviewedSources,
  after: ReviewedSources,
  backwards: ReadonlyMap<FileId, FileId>,
): Touched[] {
  const told = new Set(touched.flatMap((pair) => pair.after ?? pair.before ?? []));
  return [...uses.keys()].flatMap((file): Touched[] => {
    if (told.has(file) || documentKind(file)?.kind === "move" || !isChanged(file)) return [];
    const was = backwards.get(file) ?? file;
    return [
      {
        ...(before.sources.read(was).state === "missing" ? {} : { before: was }),
        ...(after.sources.read(file).state === "missing" ? {} : { after: file }),
        causes: [],
      },
    ];
  });
}
