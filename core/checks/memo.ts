import { sameData } from "../base/same-data.ts";
import type { FileId } from "../base/span.ts";
import type { DocumentMemo } from "../model/resolution.ts";
import type { MoveResolution } from "../model/resolve-move.ts";
import type { SourceState } from "../model/sources.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import type { Finding } from "./finding.ts";
import type { Seen } from "./seen.ts";
import type { TextStepMade } from "./text-step.ts";

/** Documents that are kept as read: the kit that is in use, and the moves looked at lately. */
const KEPT_DOCUMENTS = 96;

/** Documents whose motion is kept; the one asked for least lately goes first. */
const KEPT = 256;

/** The motion of one move; without a trajectory when planning failed. */
export interface Solved {
  readonly move: ResolvedMove;
  readonly trajectory?: Trajectory;
  readonly findings: readonly Finding[];
  /** What the checks saw of it. */
  readonly seen: Seen;
  /** By the name of the first pass that plays it so: the move with targets off their places. */
  readonly passes?: ReadonlyMap<string, Solved>;
}

/** A move as a shoot resolved it, and the states of the files that it was made from. */
export interface MoveMade {
  readonly resolution: MoveResolution;
  readonly from: ReadonlyMap<FileId, SourceState>;
}

/**
 * Keeps the last motion of each document, so that an edit which leaves the resolved move equal (a comment, a note, a
 * blank line) is not solved again, and of any other only what it changes. Owned by who calls `analyse`.
 */
export interface AnalysisMemo {
  /** Documents by their text, so that a rig that many moves use is read once. */
  readonly documents: DocumentMemo;
  /** The text step that was made last: the motion's step begins with the same one. */
  lastStep?: TextStepMade;
  /** Moves as the shoots that name them resolved them, by file. */
  readonly moves: Map<FileId, MoveMade>;
  /** What was solved last for this file, before an edit: parts of it may serve again. */
  last(file: FileId): Solved | undefined;
  /** What was solved for an equal move of this file. */
  solved(file: FileId, move: ResolvedMove): Solved | undefined;
  keep(file: FileId, solved: Solved): void;
  /** Lets go of all that is kept of this file. */
  forget(file: FileId): void;
}

export function createMemo(): AnalysisMemo {
  const entries = new Map<FileId, Solved>();
  const memo: AnalysisMemo = {
    documents: new Map(),
    moves: new Map(),
    last: (file) => entries.get(file),
    solved(file, move) {
      const entry = entries.get(file);
      return entry && sameData(entry.move, move) ? entry : undefined;
    },
    keep(file, solved) {
      entries.delete(file);
      entries.set(file, solved);
      const [oldest] = entries.keys();
      if (entries.size > KEPT) entries.delete(oldest);
    },
    forget(file) {
      entries.delete(file);
      memo.documents.delete(file);
      memo.moves.delete(file);
      if (memo.lastStep?.step.analysis.file === file) memo.lastStep = undefined;
    },
  };
  return memo;
}

/** Lets go of the documents read first once there are many: one that is still in use is read again at its next use. */
export function trimDocuments({ documents }: AnalysisMemo): void {
  for (const file of documents.keys()) {
    if (documents.size <= KEPT_DOCUMENTS) return;
    documents.delete(file);
  }
}
