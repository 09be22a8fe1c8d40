import type { FindingCode, Severity } from "../base/finding-code.ts";

/** What the program says about a code wherever it explains it: the page of findings, hovers, reports. */
export interface CatalogueRow {
  readonly title: string;
  /** One or two sentences: when it holds. */
  readonly doc: string;
  /** What the writer of the document can do. */
  readonly cure: string;
  readonly severity: Severity;
}

/** One row a code; the reference page of findings is written from it. */
export const CATALOGUE: Readonly<Record<FindingCode, CatalogueRow>> = {
  syntax: {
    title: "The text is not well formed",
    doc: "The file is not YAML or JSON at this place. What stands around it is read all the same.",
    cure: "Mend the indentation, the quote or the bracket that the message names.",
    severity: "error",
  },
  "unknown-field": {
    title: "A field that means nothing",
    doc: "The document has a field that its kind does not know. Unknown fields are never dropped in silence.",
    cure: "Take the suggested name, or remove the field.",
    severity: "error",
  },
  "missing-field": {
    title: "A field is missing",
    doc: "A field that must be given is not there.",
    cure: "Add the field; the message says what it takes.",
    severity: "error",
  },
  "wrong-type": {
    title: "A value of the wrong kind",
    doc: "The field takes another kind of value: a list instead of a number, a name instead of a list.",
    cure: "Write the value as the message and the reference say.",
    severity: "error",
  },
  "wrong-unit": {
    title: "A unit of the wrong dimension",
    doc: "The number's unit measures something else than the field does, or is no unit.",
    cure: "Write a unit of the expected dimension, or a bare number in metres, degrees, seconds or kilograms.",
    severity: "error",
  },
  "bad-number": {
    title: "A number outside its domain",
    doc: "The number cannot be: not finite, negative where a size is meant, a vector of length zero.",
    cure: "Write a number of the allowed interval that the message names.",
    severity: "error",
  },
  "missing-file": {
    title: "A file is missing",
    doc: "The document refers to a file that is not there or may not be read.",
    cure: "Correct the path; it is relative to the document that states it.",
    severity: "error",
  },
  "file-cycle": {
    title: "Files refer to each other in a circle",
    doc: "Following the references leads back to the document itself.",
    cure: "Remove one of the references.",
    severity: "error",
  },
  "unknown-axis": {
    title: "No axis of this name",
    doc: "The rig, and the turntables of the set, have no axis of this name.",
    cure: "Take the suggested name, or add the axis to the rig.",
    severity: "error",
  },
  "unknown-target": {
    title: "No target of this name",
    doc: "The set has no target of this name.",
    cure: "Take the suggested name, or add the target to the set.",
    severity: "error",
  },
  "unknown-lens": {
    title: "No lens of this name",
    doc: "The camera document has no lens of this name.",
    cure: "Take the suggested name, or add the lens to the camera.",
    severity: "error",
  },
  "unknown-mark": {
    title: "No mark or table of this name",
    doc: "The set has no surveyed mark, or no turntable, of this name.",
    cure: "Take the suggested name, or add it to the set.",
    severity: "error",
  },
  "key-order": {
    title: "Keys out of order",
    doc: "The time of a key is not later than the key before it.",
    cure: "Put the keys in the order of their times, or correct the time.",
    severity: "error",
  },
  "duplicate-name": {
    title: "A name given twice",
    doc: "Two fields, axes, keys or other things that need names of their own have the same name.",
    cure: "Rename one of them.",
    severity: "error",
  },
  "wrong-kind": {
    title: "A document of another kind",
    doc: "The file is not of the kind that its name or the reference to it says.",
    cure: "Refer to a document of the right kind, or rename the file.",
    severity: "error",
  },
  "empty-document": {
    title: "An empty document",
    doc: "The file holds nothing but blanks and comments.",
    cure: "Write the document; completion offers its fields.",
    severity: "error",
  },
  "too-large": {
    title: "Too large",
    doc: "The file, or a list in it, is larger than what is read.",
    cure: "Split the document.",
    severity: "error",
  },
  "too-deep": {
    title: "Nested too deeply",
    doc: "Lists and fields are nested more deeply than any document needs.",
    cure: "Flatten the text.",
    severity: "error",
  },
  "too-many-aliases": {
    title: "Too many aliases",
    doc: "YAML aliases would multiply the document beyond what is read.",
    cure: "Write the values out.",
    severity: "error",
  },
  "over-determined": {
    title: "One thing told twice",
    doc: "Two statements fix the same axis at the same time, as an aim and a keyed pan do.",
    cure: "Remove one of the two, or end the aim with `aim: none`.",
    severity: "error",
  },
  "axis-unset": {
    title: "An axis that nothing moves",
    doc: "A driven axis is neither keyed nor solved anywhere in the move, so nobody knows where it stands.",
    cure: "Give the axis a value in the first key.",
    severity: "error",
  },
  "sharp-corner": {
    title: "A corner in the path",
    doc: "The path turns a corner where the camera neither stops nor rounds it.",
    cure: "Add `stop: true` to the key, or `blend:` with a length.",
    severity: "warning",
  },
  "branch-change": {
    title: "The solution changes its branch",
    doc: "The axes would have to jump from one way of reaching the pose to another.",
    cure: "Add a key between, or key the axis that jumps.",
    severity: "error",
  },
  "sensor-aspect": {
    title: "Sensor and resolution disagree",
    doc: "The aspect of `sensor` and that of `resolution` differ by more than 0.5 %.",
    cure: "State the area of the sensor that is recorded as `resolution`.",
    severity: "warning",
  },
  "degenerate-chain": {
    title: "The chain cannot do its work",
    doc: "The axes of the rig do not span what is asked, as a pan and a tilt about the same direction do.",
    cure: "Correct the direction or the place of the axis that the message names.",
    severity: "error",
  },
  "not-computed": {
    title: "Read, but not computed yet",
    doc: "The field is understood and checked as text, but this version computes nothing from it.",
    cure: "Do not rely on it for this version's answers.",
    severity: "warning",
  },
  "internal-error": {
    title: "A fault of the program",
    doc: "A part of the program failed on this document. The other findings stand, but something may have gone unchecked.",
    cure: "Please report it together with the document.",
    severity: "error",
  },
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
  "out-of-reach": {
    title: "The rig cannot get there",
    doc: "No values of the axes inside their ranges put the camera, or turn the head, where the move wants it.",
    cure: "Move the key to the nearest place in reach, or move the base, the column or the arm.",
    severity: "error",
  },
  "aim-error": {
    title: "The aim is missed",
    doc: "The target is farther from its framing than `tolerance: aim`, because the head cannot turn there.",
    cure: "Change the framing or the camera's place so that the head can reach the view.",
    severity: "error",
  },
  "out-of-frame": {
    title: "The subject is out of frame",
    doc: "What the move aims at is outside the captured picture or outside the delivered crop.",
    cure: "Change the framing of the key, or allow it when the subject is meant to leave the picture.",
    severity: "error",
  },
  "aim-spin": {
    title: "The head spins near its pole",
    doc: "The view comes so near to the direction of the pan axis, as in a top-down shot, that pan must turn very fast to hold the aim.",
    cure: "Lead the view past the pole at a distance, hold pan over the crossing, or let roll do the turn.",
    severity: "warning",
  },
  "focus-near": {
    title: "Nearer than the lens can focus",
    doc: "The focus distance, from the sensor plane, is shorter than the lens's `close-focus`.",
    cure: "Move the camera back, or take a lens that focuses nearer.",
    severity: "error",
  },
  expect: {
    title: "The move's own test fails",
    doc: "What an `expect` of the move says of an axis, the camera or a target does not hold in the time that it speaks of.",
    cure: "Change the keys that the quantity hangs on, or what is expected.",
    severity: "error",
  },
  allow: {
    title: "An allow that does not count",
    doc: "An `allow` names no reason, names no known code, or allows nothing that is found.",
    cure: "Write the reason, or remove the allow.",
    severity: "warning",
  },
};
