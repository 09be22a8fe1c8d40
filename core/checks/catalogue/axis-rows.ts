import type { CatalogueRow } from "./row.ts";

/** Values and rates of axes. */
export const AXIS_ROWS = {
  "axis-range": {
    title: "An axis leaves its range",
    doc: "The value of an axis is outside its `range`, at a key or between keys. Driven, solved and following axes and turntables are checked.",
    cure: "Move the key, the base or the framing so that the axis has travel left.",
    severity: "error",
  },
  "axis-speed": {
    title: "An axis is too fast",
    doc: "The speed of an axis is above `limits: speed`, at a key or between keys.",
    cure: "Give the segment more time, or move the keys closer together.",
    severity: "error",
  },
  "axis-accel": {
    title: "An axis accelerates too hard",
    doc: "The acceleration of an axis is above `limits: accel`, at a key or between keys.",
    cure: "Give the segment more time; half of the acceleration takes 1.41 times the time.",
    severity: "error",
  },
  "axis-jerk": {
    title: "An axis jerks",
    doc: "The jerk of an axis, the rate at which its acceleration changes, is above `limits: jerk`.",
    cure: "Give the segment more time; half of the jerk takes 1.26 times the time.",
    severity: "error",
  },
  "near-limit": {
    title: "An axis is near a limit",
    doc: "Speed, acceleration or jerk of an axis uses more than `tolerance: near-limit` of its limit without breaking it. The worst instant of each is told.",
    cure: "Nothing must be done; a little more time makes room for changes on set.",
    severity: "information",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
