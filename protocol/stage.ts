import type { Rate } from "../core/base/rate.ts";
import type { Severity } from "../core/base/finding-code.ts";
import type { StageLens, StageLensShown } from "./stage-lens.ts";
import type { ResolvedOptics } from "../core/lens/resolved-optics.ts";
import type { MoveAxis, ResolvedTarget, ResolvedTurntable, Tolerances } from "../core/motion/resolved-move.ts";
import type { SaveFromStage, SaveToStage } from "./stage-save.ts";
import type { BasePlace, Body, ResolvedRig } from "../core/rig/resolved-rig.ts";
import type { CompareMessage, GhostMessage, GhostState } from "./stage-ghost.ts";
import type { PassesMessage } from "./stage-passes.ts";
import type { ReachMessage, ReachWish } from "./stage-reach.ts";
import type { StagePicturedOverlays } from "./stage-overlays.ts";
import type { SeriesName, StageSeries } from "./stage-series.ts";
import type { ShapeAnswer, ShapeWish } from "./stage-shape.ts";

/** A table of numbers as base64 of little-endian IEEE 754; what JSON can carry without loss of shape. */
export interface PackedTable {
  readonly type: "f32" | "f64";
  readonly data: string;
}

/** A table of numbers rounded to steps, for where room is short; see `step-table.ts`. */
export interface PackedSteps {
  readonly type: "steps";
  readonly rows: number;
  readonly width: number;
  readonly data: string;
}

export type PackedNumbers = PackedTable | PackedSteps;

/** All that the stage draws of one move. Everything is SI; made by the server, read by the webview. */
export interface StageTake {
  readonly uri: string;
  /** Version of the move's document that this was solved from. */
  readonly version: number;
  /** True while the text is broken and this is the last good result. */
  readonly stale: boolean;
  readonly title: string;
  readonly rate: Rate;
  readonly startFrame: number;
  readonly duration: number;
  readonly rig: ResolvedRig;
  readonly base: BasePlace;
  readonly optics: ResolvedOptics;
  readonly deliver: readonly [number, number];
  readonly axes: readonly MoveAxis[];
  readonly targets: readonly ResolvedTarget[];
  readonly turntables: readonly ResolvedTurntable[];
  readonly obstacles: readonly Body[];
  readonly people: readonly Body[];
  /** What is but drawn. Absent: nothing. */
  readonly dressing?: readonly Body[];
  readonly lens?: StageLens;
  /** Meshes that the bodies name and that the stage may ask for. */
  readonly meshes: readonly StageMesh[];
  readonly marks: readonly { readonly name: string; readonly at: readonly [number, number, number] }[];
  readonly floor: number;
  /** What counts as close enough, defaults filled. */
  readonly tolerance: Tolerances;
  readonly keys: readonly { readonly label: string; readonly time: number }[];
  /** Framing with what is aimed at when, for the lens view. */
  readonly aims: readonly { readonly from: number; readonly to: number; readonly target: number }[];
  readonly findings: readonly StageFinding[];
  /** How many kinds of pass the move names. Absent: none. */
  readonly passes?: number;
  readonly samples: PackedTake;
}

/** A mesh that can be had: as the bodies name it, and what changes when its content does. */
export interface StageMesh {
  readonly file: string;
  readonly stamp: string;
}

/** A file of a mesh: the mesh itself, or with `part` a file that it names, such as the buffer of a glTF file. */
export interface StageMeshPart {
  readonly file: string;
  readonly part?: string;
}

/** Its bytes in base64 with the stamp that the mesh has now, or why there are none. */
export type StageMeshAnswer = StageMeshPart &
  ({ readonly data: string; readonly stamp: string } | { readonly problem: string });

export interface StageFinding {
  /** Position in the list of findings of this take. */
  readonly id: number;
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly axis?: string;
  readonly key?: string;
  readonly time?: { readonly from: number; readonly to: number };
  /** When it is worst [s]. */
  readonly peak?: number;
  /** The shortest way between two things at `peak`, in the set [m], and how long it is in words. */
  readonly segment?: StageSegment;
  /** What is too near to what, by the names that the message uses. */
  readonly bodies?: { readonly part: string; readonly target: string };
}

export interface StageSegment {
  readonly from: readonly [number, number, number];
  readonly to: readonly [number, number, number];
  readonly label: string;
}

/** `Take` of core, packed. Names and shapes as there. */
export interface PackedTake {
  readonly count: number;
  readonly t: PackedNumbers;
  readonly value: PackedNumbers;
  readonly speed: PackedNumbers;
  readonly accel: PackedNumbers;
  readonly jerk: PackedNumbers;
  readonly position: PackedNumbers;
  readonly rotation: PackedNumbers;
  readonly focal: PackedNumbers;
  readonly focus: PackedNumbers;
  readonly share: PackedNumbers;
  readonly targets: PackedNumbers;
  readonly framing: PackedNumbers;
  readonly distance: PackedNumbers;
  readonly iris?: PackedNumbers;
  readonly blur?: PackedNumbers;
  /** Framing asked for, shape (n, 2); without it the stage shows where the aimed-at target is. */
  readonly wanted?: PackedNumbers;
  readonly reached?: PackedNumbers;
}

/** Why there is no take: shown in place of the scene. */
export interface StageProblem {
  readonly uri: string;
  readonly version: number;
  readonly message: string;
  readonly findings: readonly StageFinding[];
}

export type StageAnswer = { readonly take: StageTake } | { readonly problem: StageProblem };

/** From the extension to the stage. */
export type ToStage =
  | { readonly type: "take"; readonly answer: StageAnswer }
  /** The cursor stands in a key, or left all keys: move the playhead there. */
  | { readonly type: "playhead"; readonly time: number; readonly key: number }
  /** A person asked to play the take from there [s]. */
  | { readonly type: "play"; readonly time: number }
  | { readonly type: "mesh"; readonly mesh: StageMeshAnswer }
  | { readonly type: "series"; readonly series: StageSeries }
  | ReachMessage
  | PassesMessage
  | GhostMessage
  | { readonly type: "shape"; readonly answer: ShapeAnswer }
  | SaveToStage
  /** Asks for a `state` answer; the tests use it. */
  | { readonly type: "report"; readonly id: number };

/** From the stage to the extension. */
export type FromStage =
  /** The page runs and wants the take. `lost` is the take's uri kept in its state, when it was restored. */
  | { readonly type: "ready"; readonly uri?: string }
  /** Asks for a file of a mesh of the take that is shown. */
  | { readonly type: "mesh"; readonly mesh: StageMeshPart }
  /** Asks for curves of the take that are made when somebody looks at them. */
  | { readonly type: "series"; readonly name: SeriesName; readonly version: number }
  /** What the camera can reach, and how passes play: asked for when somebody looks at it. */
  | { readonly type: "reach"; readonly wish: ReachWish }
  | { readonly type: "passes" }
  /** Somebody shapes the move by hand. */
  | ({ readonly type: "shape" } & ShapeWish)
  | CompareMessage
  | SaveFromStage
  | { readonly type: "reveal-key"; readonly key: number }
  | { readonly type: "reveal-finding"; readonly id: number }
  | { readonly type: "state"; readonly id: number; readonly state: StageState }
  | { readonly type: "failed"; readonly message: string };

/** What the stage shows now; answered to `report`. */
export interface StageState {
  readonly uri: string | undefined;
  readonly version: number;
  readonly time: number;
  readonly playing: boolean;
  readonly frame: number;
  readonly timecode: string;
  readonly webgl: boolean;
  readonly message: string;
  readonly pictures: number;
  readonly keys: number;
  readonly findings: number;
  /** Places of the rig's links at `time`, set frame, row-major (joints, 3). */
  readonly links: readonly number[];
  /** Where things were drawn in the last picture; absent before the first. */
  readonly picture?: StagePicture;
  /** What the move is compared with. */
  readonly ghost?: GhostState;
  /** What the graphs show; absent while another list is open. */
  readonly graphs?: StageGraphs;
}

/** The graphs as they are drawn and read. */
export interface StageGraphs {
  /** Stretch of time that is shown, and all that there is [s]. */
  readonly window: readonly [number, number];
  readonly whole: number;
  /** When values are read [s]: at the pointer, else at the playhead. */
  readonly at: number;
  /** What was said of the peak that was gone to last. */
  readonly peak: string;
  readonly plots: readonly StagePlot[];
}

export interface StagePlot {
  readonly title: string;
  readonly unit: string;
  /** [left, top, width, height] of the plot's inside, in CSS px of the page. */
  readonly rectangle: readonly number[];
  /** Lowest and highest value of the scale. */
  readonly scale: readonly [number, number];
  readonly lines: readonly { readonly name: string; readonly reading: string }[];
  readonly levels: readonly string[];
  /** What stands in place of the curves. */
  readonly note?: string;
}

/** Where the last picture shows what it shows, in CSS px of the page, so that a test can compare it with its own projection. */
export interface StagePicture {
  /** Time of the move that was drawn [s]. */
  readonly time: number;
  /** Draw calls of the picture, and parts of the scene that were built since the page was opened. */
  readonly calls: number;
  readonly built: number;
  /** Files of meshes that are drawn, and what is said of those that are not. */
  readonly meshes?: { readonly drawn: readonly string[]; readonly problems: readonly string[] };
  /** The first pane that shows the stage, and the first that shows the view through the lens. */
  readonly stage?: StagePicturedScene;
  readonly lens?: StagePicturedLens;
  /** All panes that are seen, in their order. */
  readonly panes?: readonly StagePane[];
}

export interface StagePane {
  /** What it shows: "free", "top", "side", "front" or "lens". */
  readonly kind: string;
  readonly active: boolean;
  readonly stage?: StagePicturedScene;
  readonly lens?: StagePicturedLens;
}

/** The stage in a pane: its rectangle [left, top, width, height], its camera (set frame), and the drawn places. */
export interface StagePicturedScene {
  readonly rectangle: readonly number[];
  readonly kind: "perspective" | "parallel";
  readonly eye: readonly number[];
  readonly centre: readonly number[];
  readonly right: readonly number[];
  readonly up: readonly number[];
  /** Vertical opening [rad] of a perspective view, height [m] of a parallel one. */
  readonly opening: number;
  /** Drawn places of the links, shape (joints, 2), and of the keys' marks, shape (keys, 2). */
  readonly links: readonly number[];
  readonly keys: readonly number[];
  /** Drawn ends of the shortest ways that findings of the moment tell, shape (ways, 2, 2). */
  readonly ways: readonly number[];
  readonly overlays?: StagePicturedOverlays;
}

/** The view through the lens: its rectangle and the marks as drawn; null where a target is behind the camera. */
export interface StagePicturedLens {
  readonly rectangle: readonly number[];
  readonly targets: readonly (readonly [number, number] | null)[];
  readonly wanted: readonly [number, number] | null;
  /** Radii of the pass error as they are drawn, one for each kind of pass that has one. */
  readonly passRadii?: readonly number[];
  /** Delivered crop: [left, top, width, height]. */
  readonly crop: readonly number[];
  readonly shown?: Partial<StageLensShown>;
}
