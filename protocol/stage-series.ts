import type { PackedNumbers } from "./stage.ts";

/** Curves that are computed when somebody looks at them; all others the stage makes from the take's samples. */
export const SERIES = ["clearance", "passes"] as const;
export type SeriesName = (typeof SERIES)[number];

/** One curve over times of its own. */
export interface SeriesLine {
  /** What is nearest: `set`; which pass: `hero, pass 4`. */
  readonly name: string;
  /** Ascending [s], shape (n,). */
  readonly t: PackedNumbers;
  /** Clearance [m], pass error [captured px], shape (n,); NaN where there is none. */
  readonly values: PackedNumbers;
  /** What the move asks for, in the unit of the values. */
  readonly limit: number;
  /** What each value is of, by index into `words`, shape (n,): `boom to teapot`. */
  readonly words?: readonly string[];
  readonly word?: PackedNumbers;
}

/** The curves of a name, or in a sentence why there are none. */
export type StageSeries = {
  readonly name: SeriesName;
  readonly uri: string;
  /** Version of the move's document that they are of. */
  readonly version: number;
} & ({ readonly lines: readonly SeriesLine[] } | { readonly problem: string });

/** Curves of a move that the stage does not make itself. */
export const SERIES_REQUEST = "movewright/stageSeries";
export interface SeriesParams {
  readonly uri: string;
  readonly name: SeriesName;
}
export type SeriesResult = StageSeries;
