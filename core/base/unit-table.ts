import type { Dimension } from "./dimension.ts";

/** The base quantities that units are made of. Pixels and shares never mix with the rest. */
export type Base = "length" | "angle" | "time" | "mass" | "share" | "pixels" | "power" | "energy";

export interface Unit {
  readonly base: Base;
  /** SI value of one of it is `times / over`, two exact numbers where there are such: 36 mm is then 0.036. */
  readonly times: number;
  readonly over: number;
}

const of = (base: Base, times = 1, over = 1): Unit => ({ base, times, over });

/**
 * Every spelling of a unit. A quotient joins them: `deg/s`, `mm/s2` (also `mm/s^2`, `mm/s²`, `mm/s/s`), `1.5 mm/m`.
 * Inch, foot and pound are the international ones (exact by definition).
 */
export const UNITS: Readonly<Record<string, Unit>> = {
  m: of("length"),
  mm: of("length", 1, 1000),
  cm: of("length", 1, 100),
  um: of("length", 1, 1e6),
  µm: of("length", 1, 1e6),
  in: of("length", 254, 10_000),
  ft: of("length", 3048, 10_000),
  deg: of("angle", Math.PI, 180),
  "°": of("angle", Math.PI, 180),
  rad: of("angle"),
  mrad: of("angle", 1, 1000),
  arcmin: of("angle", Math.PI, 180 * 60),
  s: of("time"),
  ms: of("time", 1, 1000),
  min: of("time", 60),
  h: of("time", 3600),
  kg: of("mass"),
  g: of("mass", 1, 1000),
  lb: of("mass", 45_359_237, 1e8),
  "%": of("share", 1, 100),
  px: of("pixels"),
  W: of("power"),
  Wh: of("energy", 3600),
  J: of("energy"),
};

/** How one dimension is called and written. */
export interface DimensionFacts {
  /** In words, with its article, for messages. */
  readonly word: string;
  /** Power of each base; absent ones are 0. */
  readonly powers: Readonly<Partial<Record<Base, number>>>;
  /** What a bare number counts in. */
  readonly bare: string;
  /** Spellings that messages and the reference page offer. */
  readonly spellings: readonly string[];
  /** Largest that is taken, either way, in `bare`: what takes ever longer to look through the larger it is has its own. */
  readonly most?: number;
}

const quotient = (
  word: string,
  base: Base,
  order: 1 | 2 | 3,
  bare: string,
  units: readonly string[],
): DimensionFacts => {
  const suffix = order === 1 ? "/s" : `/s${order}`;
  return {
    word,
    powers: { [base]: 1, time: -order },
    bare: bare + suffix,
    spellings: units.map((unit) => unit + suffix),
  };
};

const LENGTHS = ["m", "cm", "mm", "in", "ft"];
const ANGLES = ["deg", "rad"];

/** What each dimension is called, counts in when bare, and may be written in. */
export const DIMENSIONS: Readonly<Record<Dimension, DimensionFacts>> = {
  length: { word: "a length", powers: { length: 1 }, bare: "m", spellings: LENGTHS, most: 100_000 },
  angle: { word: "an angle", powers: { angle: 1 }, bare: "deg", spellings: ANGLES, most: 360_000 },
  time: { word: "a time", powers: { time: 1 }, bare: "s", spellings: ["s", "ms", "min", "h"], most: 1_000_000 },
  mass: { word: "a mass", powers: { mass: 1 }, bare: "kg", spellings: ["kg", "g", "lb"] },
  share: { word: "a share", powers: { share: 1 }, bare: "", spellings: ["%"] },
  pixels: { word: "a count of pixels", powers: { pixels: 1 }, bare: "px", spellings: ["px"] },
  number: { word: "a plain number", powers: {}, bare: "", spellings: [] },
  power: { word: "a power", powers: { power: 1 }, bare: "W", spellings: ["W"] },
  energy: { word: "an energy", powers: { energy: 1 }, bare: "Wh", spellings: ["Wh", "J"] },
  "length-speed": quotient("a speed along a line", "length", 1, "m", LENGTHS),
  "length-accel": quotient("an acceleration along a line", "length", 2, "m", LENGTHS),
  "length-jerk": quotient("a jerk along a line", "length", 3, "m", LENGTHS),
  "angle-speed": quotient("a speed of turning", "angle", 1, "deg", ANGLES),
  "angle-accel": quotient("an acceleration of turning", "angle", 2, "deg", ANGLES),
  "angle-jerk": quotient("a jerk of turning", "angle", 3, "deg", ANGLES),
};
