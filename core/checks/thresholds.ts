/**
 * The numbers that the checks decide by, each with its unit and reason.
 */

/** [m], [rad] Beyond an end of travel: half of the last stored digit (1e-6 m, 1e-5 deg) doubled. Pinned by axis-range.test.ts. */
export const RANGE_SLACK = { linear: 1e-6, rotary: 1.75e-7 } as const;

/** Share of a limit that rounding may take: a move stretched to its limit exactly is no violation. Pinned by axis-speed.test.ts. */
export const LIMIT_SLACK = 1e-6;

/** [s] Longest time between two instants that the sampled checks look at; extremes between them are refined. */
export const SCAN_STEP = 0.1;

/** Instants between two knots at least, however near they are: a quintic has at most three turns between its ends. */
export const SCAN_LEAST = 5;

/** Instants at most; a longer move is looked at more coarsely. */
export const SCAN_MOST = 200_000;

/** [s] To what a crossing or an extreme of a sampled quantity is refined. */
export const SCAN_TIME = 1e-6;

/** [captured px] Outside the picture by less than this is rounding. */
export const FRAME_SLACK = 1e-3;

/** [m] Nearer than close focus by less than this is rounding. */
export const FOCUS_SLACK = 1e-6;

/** Share of the circle of confusion that rounding may take: a subject at the very end of the depth of field is in it. */
export const SOFT_SLACK = 1e-6;

/** [rad] The view counts as near the pan axis below this (15 deg): pan then turns four times as fast as the view, or faster. */
export const POLE_NEAR = (15 * Math.PI) / 180;

/** [rad/s] What counts as a runaway of an axis that states no speed limit (180 deg/s; common practice, no source). */
export const RUNAWAY_SPEED = Math.PI;

/** Share of a bound of the move's own tests, or the same in SI for small ones, that rounding may take. */
export const EXPECT_SLACK = 1e-9;

/** Share of a battery that rounding may take: takes that use it up exactly are no finding. */
export const POWER_SLACK = 1e-9;

/** [captured px] A cut that misses its tolerance by less than this is rounding. */
export const CUT_SLACK = 1e-6;

/** Share of what the load's moment is with the arm level that a counterweight may leave (common practice, no source). */
export const BALANCE_TOLERANCE = 0.1;

/** Share of the way from the middle of the feet to an edge that is to stay free (common practice, no source). */
export const SUPPORT_MARGIN = 0.2;

/** [kg], or a share of a moment or of the way to an edge: what rounding may take. Pinned by the tests of `checks/load`. */
export const LOAD_SLACK = 1e-9;

/** [m/s] The reduced speed of ISO 10218-1 for what moves near people. Pinned by fast-near-people.test.ts. */
export const REDUCED_SPEED = 0.25;

/** [captured px] Passes further apart than their tolerance by less than this is rounding. */
export const MATCH_SLACK = 1e-6;

/** A pass is told of beside the move where it breaks a limit by so many times as much. */
export const CLEARLY_WORSE = 1.25;
