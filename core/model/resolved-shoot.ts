import type { OriginId } from "../base/origin-id.ts";
import type { FileId } from "../base/span.ts";

/** A move that a shoot names, where it does so first. */
export interface NamedMove {
  readonly file: FileId;
  /** As written. */
  readonly reference: string;
  readonly origin: OriginId;
}

/** One shot of the day. */
export interface ResolvedShot {
  /** Its name; without one the move's title. */
  readonly label: string;
  /** The move's file; absent where the text names none that is there. */
  readonly move?: FileId;
  /** Passes that are taken, by name, in this order; absent: all of the move. */
  readonly passes?: readonly string[];
  /** [s], >= 0. */
  readonly setupTime: number;
  /** From the start of one pass to the start of the next [s], >= 0; absent: as long as the move and the way back take. */
  readonly passTime?: number;
  /** The battery is changed before this shot. */
  readonly changeBattery: boolean;
  /** Where the shot names its move. */
  readonly origin: OriginId;
}

/** One side of a cut: a key of a move by its name. */
export interface CutEnd {
  readonly move: FileId;
  readonly key: string;
  /** `lid.move.yaml#top`, as written. */
  readonly reference: string;
  readonly origin: OriginId;
}

/** Two keys whose pictures of a target, and of what is around it, must agree. */
export interface ResolvedCut {
  readonly from: CutEnd;
  readonly to: CutEnd;
  /** Name of a target that the sets of both moves have. */
  readonly about: string;
  /** Captured px of the move that is cut from, > 0. */
  readonly tolerance: number;
  readonly toleranceOrigin: OriginId;
  /** How large what must agree is [m], >= 0; absent: what fills half of the delivered picture's height. */
  readonly size?: number;
}

/** A shoot, names bound, SI, defaults filled. Plain data without places; the moves that it names are resolved apart. */
export interface ResolvedShoot {
  readonly name: string;
  readonly shots: readonly ResolvedShot[];
  readonly cuts: readonly ResolvedCut[];
  /** All moves that shots and cuts name, each once, in the order of the text. */
  readonly moves: readonly NamedMove[];
}
