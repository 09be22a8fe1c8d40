/** Limits of an axis, by the order of the derivative that they are of. */
export const LIMITS = ["range", "speed", "accel", "jerk"] as const;
export type Limit = (typeof LIMITS)[number];

/** As people say it. */
export const LIMIT_WORDS: Readonly<Record<Limit, string>> = {
  range: "range",
  speed: "speed",
  accel: "acceleration",
  jerk: "jerk",
};
