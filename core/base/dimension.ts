/** What a number measures. Inside core every quantity is SI: m, rad, s, kg, and their quotients; a share is 0..1. */
export type Dimension =
  | "length"
  | "angle"
  | "time"
  | "mass"
  | "share"
  | "pixels"
  | "number"
  | "power"
  | "energy"
  | "length-speed"
  | "length-accel"
  | "length-jerk"
  | "angle-speed"
  | "angle-accel"
  | "angle-jerk";
