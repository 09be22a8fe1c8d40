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
  const [value, limit] = figures(f);
  const about = text(f, "about");
  const what = `The cut from ${text(f, "from")} to ${text(f, "to")} does not match about ${about}`;
  const framing = `framing ${framingOf(f, "from")} and ${framingOf(f, "to")}`;
  const beside = [
    pair(f, "distance", "length"),
    `direction of the view ${formatQuantity(number(f, "direction"), "angle")} apart`,
    ...(0 < number(f, "turned") ? [`table turned ${formatQuantity(number(f, "turned"), "angle")} apart`] : []),
    pair(f, "height", "length", "camera height above it"),
    ...(Number.isFinite(number(f, "from-roll")) && Number.isFinite(number(f, "to-roll"))
      ? [pair(f, "roll", "angle")]
      : []),
    `${pair(f, "focal", "length", "focal length")} (field of view ${formatQuantity(number(f, "from-field"), "angle")} and ${formatQuantity(number(f, "to-field"), "angle")})`,
  ].join(", ");
  return `${what}: ${missOf(f, value, limit)}. With ${framing}: ${beside}; ${cutAdvice(f)}`;
}

function missOf(f: Finding, value: string, limit: string): string {
  const about = text(f, "about");
  if (text(f, "of") === "framing") {
    if (f.measured === Infinity) return `one of the two cameras does not see ${about}`;
    return `the pictures of ${about} are ${value} apart where ${limit} are allowed`;
  }
  const target = formatQuantity(number(f, "target"), "pixels");
  const reach = formatQuantity(number(f, "reach"), "length");
  return `${about} itself is ${target} apart, but what is ${reach} about it is up to ${value} apart where ${limit} are allowed`;
}

function cutAdvice(f: Finding): string {
  const key = `${f.key} of the second move`;
  if (0 < number(f, "cured"))
    return `set the one of these that differs at ${key} as at ${text(f, "fromKey")} of the first`;
  return `bring ${key} to the place, direction and focal length of ${text(f, "fromKey")} of the first, or allow more`;
}

const framingOf = (f: Finding, side: "from" | "to"): string => {
  const [across, down] = [number(f, `${side}-across`), number(f, `${side}-down`)];
  return Number.isFinite(across) ? `[${across.toFixed(3)}, ${down.toFixed(3)}]` : "behind the camera";
};

/** `distance 1.2 m and 1.25 m`. */
const pair = (f: Finding, name: string, dimension: "length" | "angle", called = name): string =>
  `${called} ${formatQuantity(number(f, `from-${name}`), dimension)} and ${formatQuantity(number(f, `to-${name}`), dimension)}`;
