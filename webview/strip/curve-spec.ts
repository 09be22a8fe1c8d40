import type { Extents } from "./extents.ts";

/** One line of a graph, in the unit that people read. */
export interface Line {
  readonly name: string;
  readonly extents: Extents;
  /** Colour as CSS text, and dashes so that lines differ without colour too. */
  readonly stroke: string;
  readonly dash: readonly number[];
  /** Of another move that this one is compared with. */
  readonly isGhost?: boolean;
  /** A value with its unit. */
  readonly read: (value: number) => string;
  /** The value at a time [s]; default: straight between samples. */
  readonly at?: (time: number) => number;
  /** What else is said of a time, such as between which things a distance is. */
  readonly say?: (time: number) => string;
  /** How bad a sample is: 1 at its limit. Absent: peaks of the line are not looked for. */
  readonly badness?: (value: number, sample: number) => number;
}

/** A level that is drawn across: an end of the range, a limit. */
export interface Level {
  readonly at: number;
  readonly name: string;
}

/** What is filled between two lines that are not drawn by themselves; above a number that is infinite all is filled. */
export interface Band {
  readonly low: Extents;
  readonly high: Extents;
  readonly name: string;
}

export interface CurveSpec {
  readonly title: string;
  readonly unit: string;
  readonly lines: readonly Line[];
  readonly levels: readonly Level[];
  readonly bands: readonly Band[];
  /** The scale ends there at most: what is higher would flatten all else. */
  readonly ceiling?: number;
  /** What the graph shows, for those who do not see it. */
  readonly words: string;
  /** Why there is nothing to draw. */
  readonly note?: string;
}

/** A graph without curves, and why. */
export function emptyCurve(title: string, note: string): CurveSpec {
  return { title, unit: "", lines: [], levels: [], bands: [], words: note, note };
}
