/**
 * A sampled move: what the stage, the graphs and exports read. Row i of each table is the instant `t[i]`.
 * Shapes: n samples, a axes, m targets. SI.
 */
export interface Take {
  readonly count: number;
  readonly t: Float64Array;
  /** Shape (n, a), row-major. */
  readonly value: Float64Array;
  readonly speed: Float64Array;
  readonly accel: Float64Array;
  readonly jerk: Float64Array;
  /** Shape (n, 3) and (n, 4); quaternions [x, y, z, w] continuous in sign, w >= 0 at the first. */
  readonly position: Float64Array;
  readonly rotation: Float64Array;
  /** Shape (n,). */
  readonly focal: Float64Array;
  readonly focus: Float64Array;
  /** Highest share of any limit (range not counted) of any axis, shape (n,). */
  readonly share: Float64Array;
  /** Shape (n, 3 m), (n, 2 m) with NaN behind the camera, (n, m). */
  readonly targets: Float64Array;
  readonly framing: Float64Array;
  readonly distance: Float64Array;
  /** F-number, shape (n,). Absent: not sampled. */
  readonly iris?: Float64Array;
  /**
   * How far each target moves in the captured picture while the shutter is open, to the right and down [captured px], shape
   * (n, 2 m); NaN behind the camera. Absent: not sampled.
   */
  readonly blur?: Float64Array;
  /** Framing asked for of what is aimed at, shape (n, 2); NaN while nothing is aimed at. Absent: not sampled. */
  readonly wanted?: Float64Array;
  /** Framing where what is aimed at is, between both targets during a change of aim; NaN behind the camera too. Shape (n, 2). */
  readonly reached?: Float64Array;
}
