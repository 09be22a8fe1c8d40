import { formatQuantity } from "../../base/units.ts";
import { excess, percent } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { figures, number, stretchWords, text, type Words } from "./words.ts";

/** Values and rates of axes. */
export const AXIS_WORDS = {
  "axis-range": rangeMessage,
  "axis-speed": (f, at) => limitMessage(f, at, f.dimension === "length-speed" ? "moves" : "turns"),
  "axis-accel": (f, at) => limitMessage(f, at, "accelerates"),
  "axis-jerk": (f, at) => limitMessage(f, at, "jerks"),
  "near-limit": (f, at) => {
    const [value, limit] = figures(f);
    const word = { speed: "speed", accel: "acceleration", jerk: "jerk" }[text(f, "of")] ?? "";
    return `${f.axis} uses ${percent(number(f, "share"))} of its ${word} limit${at}: ${value} of ${limit}`;
  },
  "axis-unset": (f) =>
    `Nothing moves ${f.axis}: no key gives it a value and no aim or camera key solves it; give it a value in ${f.key ?? "the first key"}`,
} satisfies Readonly<Record<string, Words>>;

function rangeMessage(f: Finding, at: string): string {
  const [value, limit] = figures(f);
  const beyond = formatQuantity(Math.abs((f.measured ?? 0) - (f.limit ?? 0)), f.dimension ?? "number");
  if (text(f, "end") === "position")
    return `${f.axis} at ${value} is at none of its positions; the nearest is ${limit}`;
  const dimension = f.dimension ?? "number";
  const range = `${formatQuantity(number(f, "low"), dimension)} to ${formatQuantity(number(f, "high"), dimension)}`;
  const said = `${f.axis} reaches ${value}${at}, ${beyond} beyond the ${text(f, "end")} end of its range, ${limit}`;
  return `${said}; ${rangeCure(f, range)}`;
}

function rangeCure(f: Finding, range: string): string {
  if (text(f, "leader")) return `it follows ${text(f, "leader")}: keep that where ${f.axis} stays within ${range}`;
  if (text(f, "source") === "solved") return `change the camera's place or the framing at ${f.key}, or move the base`;
  if (text(f, "source") === "constant") return `set it within ${range}`;
  return `key it within ${range}`;
}

function limitMessage(f: Finding, at: string, verb: string): string {
  if (!Number.isFinite(f.measured)) {
    const said = `${f.axis} would have to jump${at}, which no limit allows (here ${figures(f)[1]})`;
    return `${said}; more time does not help: lead the view past the pan axis, or the camera past the target, at a distance`;
  }
  const [value, limit] = figures(f);
  const cure = stretchCure(f);
  return `${f.axis} ${verb} at ${value}${at}, ${excess(f.measured ?? 0, f.limit ?? 0)} of ${limit}; ${cure}`;
}

function stretchCure(f: Finding): string {
  const stretch = stretchWords(f);
  return stretch === undefined ? "give it more time or raise the limit" : `${stretch}, or raise the limit`;
}
