import type { FileId } from "../base/span.ts";
import { resolveMove, type MoveResolution } from "../model/resolve-move.ts";
import type { Sources } from "../model/sources.ts";
import type { AnalysisMemo, MoveMade } from "./memo.ts";
import { isSameState } from "./text-step.ts";

/** Moves that are kept as resolved for the shoots that name them; the one resolved first goes first. */
const KEPT_MOVES = 256;

/** A move that a shoot names, resolved; the last resolution again when no file that it looked at has changed. */
export function namedMove(file: FileId, sources: Sources, memo: AnalysisMemo): MoveResolution {
  const known = memo.moves.get(file);
  if (known && isCurrent(known, sources)) return known.resolution;
  const resolution = resolveMove(file, sources, memo.documents);
  const from = new Map(resolution.inputs.map((each) => [each, sources.read(each)]));
  memo.moves.delete(file);
  memo.moves.set(file, { resolution, from });
  const [oldest] = memo.moves.keys();
  if (memo.moves.size > KEPT_MOVES) memo.moves.delete(oldest);
  return resolution;
}

const isCurrent = ({ from }: MoveMade, sources: Sources): boolean =>
  [...from].every(([each, state]) => isSameState(sources.read(each), state));
