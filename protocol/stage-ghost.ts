import type { ReadFileResult } from "./requests.ts";
import type { StageTake } from "./stage.ts";

/** What a move is compared with: another move, or itself as a revision of its repository has it. */
export type GhostWith =
  | { readonly kind: "move"; readonly uri: string }
  /** `revision` names a commit for ever; `label` is what people know it by. */
  | {
      readonly kind: "revision";
      readonly revision: string;
      readonly label: string;
      /** Uri that the move had then, where it was renamed since. */
      readonly was?: string;
    };

/** The take that is drawn behind the one that is shown. */
export interface StageGhost {
  /** `HEAD (1a2b3c4)`, `over-the-lid`: what it is called beside the other. */
  readonly label: string;
  readonly take: StageTake;
  /** What there is to say of it, as sentences. */
  readonly notes: readonly string[];
}

/** To the stage: what is compared with from now on; `null` for nothing. */
export interface GhostMessage {
  readonly type: "ghost";
  readonly ghost: StageGhost | null;
}

/** From the stage: somebody wants to compare, or not any more. */
export const COMPARE_WISHES = ["revision", "move", "stop"] as const;
export type CompareWish = (typeof COMPARE_WISHES)[number];
export interface CompareMessage {
  readonly type: "compare";
  readonly wish: CompareWish;
}

/** Commands that begin and end a comparison, by what the stage wishes; the first argument is the move's uri. */
export const COMPARE_REVISION_COMMAND = "movewright.compareWithRevision";
export const COMPARE_MOVE_COMMAND = "movewright.compareWithMove";
export const STOP_COMPARING_COMMAND = "movewright.stopComparing";
export const COMPARE_COMMANDS: Readonly<Record<CompareWish, string>> = {
  revision: COMPARE_REVISION_COMMAND,
  move: COMPARE_MOVE_COMMAND,
  stop: STOP_COMPARING_COMMAND,
};

/** The take of a move as it stood at a revision. The server keeps what it read of that one revision until it is dropped. */
export const GHOST_REQUEST = "movewright/ghost";
export interface GhostParams {
  /** Of the move as it was called then. */
  readonly uri: string;
  readonly revision: string;
  readonly label: string;
}
export type GhostResult =
  | { readonly take: StageTake; readonly notes: readonly string[] }
  /** Why there is none, as sentences. */
  | { readonly problem: string };

/** Client to server: nobody compares with a revision any more. */
export const GHOST_DROPPED = "movewright/ghostDropped";

/** Every file that a move is made of, itself first. */
export const MOVE_FILES_REQUEST = "movewright/moveFiles";
export interface MoveFilesParams {
  readonly uri: string;
}
export interface MoveFilesResult {
  readonly uris: readonly string[];
}

/** Server to client: a file as it stood at a revision of the repository that holds `of`. */
export const READ_REVISION_REQUEST = "movewright/readRevision";
export interface ReadRevisionParams {
  readonly of: string;
  readonly revision: string;
  readonly uri: string;
  readonly as: "text" | "facts" | "bytes";
}
export type ReadRevisionResult =
  | ReadFileResult
  /** It is in another repository or in none, so it has no state at that revision. */
  | { readonly state: "elsewhere" };

/** What the stage shows of a comparison; in its report, for tests. */
export interface GhostState {
  readonly label: string;
  readonly alignment: "time" | "share";
  /** Instant of the ghost that is set against the move's [s]. */
  readonly time: number;
  /** Between the entrance pupils now [m]. */
  readonly pupil: number;
  /** The ghost's links as they are drawn, row-major (joints, 3), in the set; its keys, (keys, 3). */
  readonly links: readonly number[];
  readonly keys: readonly number[];
  /** Where the first view through the lens marks targets of the ghost; empty without such a view. */
  readonly marks: readonly GhostMark[];
  /** All words of the comparison, as they stand on the page. */
  readonly words: string;
}

export interface GhostMark {
  readonly name: string;
  /** CSS px from the top left of the lens picture. */
  readonly from: readonly [number, number];
  readonly hasArrow: boolean;
}
