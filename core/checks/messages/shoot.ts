import type { Dimension } from "../../base/dimension.ts";
import { formatQuantity, trimmed } from "../../base/units.ts";
import { percent } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { figures, number, text, type Words } from "./words.ts";

/** The day of a shoot. The words of `match` are shared with those of passes. */
export const SHOOT_WORDS = {
  power: powerMessage,
} satisfies Readonly<Record<string, Words>>;

function powerMessage(f: Finding): string {
  const [used, usable] = figures(f);
  const of = `${usable} that it gives (${percent(number(f, "usable"))} of ${formatQuantity(number(f, "battery"), "energy")})`;
  const draw = formatWatts(number(f, "draw"));
  const rate = `at ${draw} on average it lasts ${trimmed(number(f, "lasts") / 3600, 2)} h`;
  if (text(f, "of") === "take") {
    const short = `A fresh battery of ${text(f, "rig")} does not last for one take: it needs ${used} of the ${of}`;
    return `${short}; ${rate}; take a larger battery, or power from the mains`;
  }
  if (text(f, "of") === "passes") {
    const many = `One battery of ${text(f, "rig")} does not last for the ${number(f, "passes")} passes and the ways back between them`;
    const change = `change it after ${text(f, "changes")}, and say so in a shoot`;
    return `${many}: it is empty in ${text(f, "empty")}, and all need ${used} of the ${of}; ${rate}; ${change}`;
  }
  const what = `The battery of ${text(f, "rig")} does not last over ${text(f, "shot")}`;
  const empty = `it is empty in ${text(f, "empty")}, and the shot's end needs ${used} of the ${of}; ${rate}`;
  return `${what}: ${empty}; ${changeAdvice(f)}`;
}

function changeAdvice(f: Finding): string {
  const after = text(f, "after");
  if (f.facts.alone === undefined) return `change it after ${after}, before this shot`;
  const own = `even a fresh one does not last for this shot alone (${formatQuantity(number(f, "alone"), "energy")})`;
  const changes = text(f, "changes");
  if (changes === "") return `${own}: take a larger battery, or power from the mains`;
  return `${own}: change it ${after ? "before the shot and " : ""}after ${changes}, or take a larger one`;
}

const formatWatts = (draw: number): string => `${trimmed(draw, draw < 10 ? 2 : 1)} W`;

/** `match` of a cut. */
export function cutMessage(f: Finding): string {
  const what = `The cut from ${text(f, "from")} to ${text(f, "to")} does not match about ${text(f, "about")}`;
  const told = figuresOf(f);
  const differ = told.filter(({ both }) => both.length > 1).map(({ name, both }) => `${name} ${both.join(" and ")}`);
  const same = told.filter(({ both }) => both.length === 1).map(({ name, both }) => `${name} ${both[0]}`);
  const turns = [turn(f, "direction", "directions of view"), turn(f, "turned", "tables turned")].flat();
  const apart = [...differ, ...turns].join(", ");
  const agree = same.length === 0 ? "" : `; the same in both: ${same.join(", ")}`;
  return `${what}: ${missOf(f)}: ${apart}${agree}; ${cutAdvice(f)}`;
}

function missOf(f: Finding): string {
  const [value, limit] = figures(f);
  const about = text(f, "about");
  const allowed = `${value} apart where ${limit} is allowed`;
  if (f.measured === Infinity) return `one of the two cameras does not see it`;
  if (text(f, "of") === "framing") return `its pictures are ${allowed}`;
  const target = formatQuantity(number(f, "target"), "pixels");
  const reach = formatQuantity(number(f, "reach"), "length");
  return `the pictures of ${about} are ${target} apart, but what is ${reach} about it is up to ${allowed}`;
}

interface Told {
  readonly name: string;
  /** Of the first and the second key; one where both read the same. */
  readonly both: readonly string[];
}

function figuresOf(f: Finding): readonly Told[] {
  const told = (name: string, said: (side: "from" | "to") => string): Told => ({
    name,
    both: [...new Set([said("from"), said("to")])],
  });
  const quantity = (fact: string, dimension: Dimension, name = fact): Told =>
    told(name, (side) => formatQuantity(number(f, `${side}-${fact}`), dimension));
  const hasHorizon = Number.isFinite(number(f, "from-roll")) && Number.isFinite(number(f, "to-roll"));
  return [
    told("framing", (side) => framingOf(number(f, `${side}-across`), number(f, `${side}-down`))),
    quantity("distance", "length"),
    quantity("height", "length", "camera height above it"),
    ...(hasHorizon ? [quantity("roll", "angle")] : []),
    quantity("focal", "length", "focal length"),
    quantity("field", "angle", "field of view"),
    ...(number(f, "from-crop") === number(f, "to-crop")
      ? []
      : [quantity("crop", "share", "delivered share of the picture's height")]),
  ];
}

const framingOf = (across: number, down: number): string =>
  Number.isFinite(across) ? `[${across.toFixed(4)}, ${down.toFixed(4)}]` : "behind the camera";

/** Less than this is not told [rad]: it reads as 0 deg. */
const TOLD_ANGLE = 8.7e-5;

function turn(f: Finding, fact: string, what: string): readonly string[] {
  const angle = number(f, fact);
  return angle < TOLD_ANGLE ? [] : [`${what} ${formatQuantity(angle, "angle")} apart`];
}

function cutAdvice(f: Finding): string {
  const cures = text(f, "cures");
  if (cures !== "") return cures;
  const place = `its camera stands at ${text(f, "place")} from ${text(f, "about")}`;
  return `bring ${text(f, "to")} to the view of ${text(f, "from")} (${place}), or allow more`;
}
