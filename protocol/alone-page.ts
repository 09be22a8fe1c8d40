import type { StageAnswer, StageMeshAnswer } from "./stage.ts";
import type { StageGhost } from "./stage-ghost.ts";
import type { StageSeries } from "./stage-series.ts";

/** What a page shows that stands alone: a stage with all that an editor would give it. It travels in the page as JSON. */
export interface AlonePage {
  /** Its uris and the files of its meshes are names of `sources` and the like, not places of a disk. */
  readonly answer: StageAnswer;
  /** The documents that the move is made of, itself first. */
  readonly sources: readonly AloneSource[];
  /** Where each key of the take stands; `null` where it is not in `sources`. */
  readonly keys: readonly (AlonePlace | null)[];
  /** Where each finding stands, by its id. */
  readonly findings: readonly (AlonePlace | null)[];
  /** Files of meshes, or why they are not in the page. */
  readonly meshes: readonly StageMeshAnswer[];
  /** Curves that the stage asks for when somebody looks at them. */
  readonly series: readonly StageSeries[];
  /** What the move is compared with. */
  readonly ghost?: StageGhost;
  /** Version of the program that made the page. */
  readonly version: string;
}

export interface AloneSource {
  /** Path from the folder that holds them all, with `/` between its parts. */
  readonly name: string;
  readonly text: string;
}

export interface AlonePlace {
  /** Index into `sources`. */
  readonly source: number;
  /** UTF-16 offsets of its text, `end` exclusive. */
  readonly start: number;
  readonly end: number;
}

/** Ids of the page's elements: its data and the stage's program, each deflated and in base64, and what is shown without them. */
export const DATA_ID = "movewright-data";
export const PROGRAM_ID = "movewright-program";
export const PLAIN_ID = "movewright-plain";
export const PLAIN_WHY_ID = "movewright-plain-why";

/** What a page says of every move. */
export const CARE =
  "This page does not say that the move is safe: keep to the rig's manual, local rules and a competent operator with an emergency stop in reach.";
