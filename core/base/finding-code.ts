/** Every code a finding can have. The text of each is in `core/checks/catalogue.ts`. */
export const DOCUMENT_CODES = [
  "syntax",
  "unknown-field",
  "missing-field",
  "wrong-type",
  "wrong-unit",
  "bad-number",
  "missing-file",
  "file-cycle",
  "unknown-axis",
  "unknown-target",
  "unknown-lens",
  "unknown-mark",
  "key-order",
  "duplicate-name",
  "wrong-kind",
  "empty-document",
  "too-large",
  "too-deep",
  "too-many-aliases",
  "over-determined",
  "axis-unset",
  "sharp-corner",
  "branch-change",
  "sensor-aspect",
  "degenerate-chain",
  "not-computed",
  "internal-error",
] as const;

export const MOTION_CODES = [
  "axis-range",
  "axis-speed",
  "axis-accel",
  "axis-jerk",
  "near-limit",
  "out-of-reach",
  "aim-error",
  "out-of-frame",
  "aim-spin",
  "focus-near",
  "expect",
  "allow",
] as const;

export type DocumentCode = (typeof DOCUMENT_CODES)[number];
export type MotionCode = (typeof MOTION_CODES)[number];
export type FindingCode = DocumentCode | MotionCode;

export type Severity = "error" | "warning" | "information" | "hint";
