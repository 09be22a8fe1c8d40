import { DOCUMENT_CODES, type FindingCode, type MotionCode } from "../base/finding-code.ts";

/** What findings are about, in the order of a report, with words for people. */
export const FAMILIES = {
  text: "the text and what it names",
  axes: "range, speed, acceleration and jerk of the axes",
  reach: "reach and aim",
  picture: "frame, motion and margin of the picture",
  focus: "focus and lens motors",
  space: "clearance",
  people: "people",
  load: "load, balance and power",
  cuts: "cuts",
  expect: "what the document expects",
} as const;

export type FindingFamily = keyof typeof FAMILIES;

const OF_MOTION: Readonly<Record<MotionCode, FindingFamily>> = {
  "axis-range": "axes",
  "axis-speed": "axes",
  "axis-accel": "axes",
  "axis-jerk": "axes",
  "near-limit": "axes",
  "out-of-reach": "reach",
  "aim-error": "reach",
  "aim-spin": "reach",
  "out-of-frame": "picture",
  judder: "picture",
  blur: "picture",
  "crop-margin": "picture",
  "focus-near": "focus",
  "focus-speed": "focus",
  "soft-subject": "focus",
  clearance: "space",
  "self-clearance": "space",
  floor: "space",
  "in-view": "space",
  people: "people",
  payload: "load",
  balance: "load",
  "tip-over": "load",
  power: "load",
  match: "cuts",
  expect: "expect",
  allow: "expect",
};

const OF_DOCUMENTS: ReadonlySet<string> = new Set(DOCUMENT_CODES);

/** The family that a code belongs to. */
export const familyOf = (code: FindingCode): FindingFamily =>
  OF_DOCUMENTS.has(code) ? "text" : OF_MOTION[code as MotionCode];
