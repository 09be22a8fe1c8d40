import type { FindingCode } from "../../base/finding-code.ts";
import type { OriginId } from "../../base/origin-id.ts";
import type { FileId } from "../../base/span.ts";
import type { Task } from "../../base/task.ts";
import type { ResolvedShoot } from "../../model/resolved-shoot.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import type { Finding } from "../finding.ts";
import type { Seen } from "../seen.ts";

/** A move of a shoot with its motion. */
export interface ShootMove {
  readonly file: FileId;
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
  /** What was seen of it; a check may add what it sees. */
  readonly seen: Seen;
  /** The document of its rig, by which two moves are told to share a rig. */
  readonly rigFile: FileId;
  /** An origin of the move as one of the shoot's findings. */
  originOf(origin: OriginId): OriginId;
}

/** What a check of a shoot may look at. */
export interface ShootContext {
  readonly shoot: ResolvedShoot;
  /** Moves that could be resolved and planned, by their file. The others have a finding of their own. */
  readonly moves: ReadonlyMap<FileId, ShootMove>;
}

/**
 * One check of a shoot. Its findings have their origins in the shoot's own text, and no time: a shoot has no clock of
 * pictures.
 */
export interface ShootCheck {
  readonly code: FindingCode;
  run(context: ShootContext): Task<readonly Finding[]>;
}
