import { formatQuantity, trimmed } from "../../base/units.ts";
import { excess } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { figures, number, stretchWords, text, type Words } from "./words.ts";

/** Focus between what is near and what is far. */
export const FOCUS_WORDS = {
  "focus-speed": (f, at) => (text(f, "of") === "scale" ? scaleMessage(f, at) : speedMessage(f, at)),
  "soft-subject": softMessage,
} satisfies Readonly<Record<string, Words>>;

const VERBS: Readonly<Record<string, string>> = { speed: "turns", accel: "accelerates", jerk: "jerks" };

/** What the lens is set to: a distance, an f-number or a focal length. */
function setting(f: Finding, value: number): string {
  if (f.axis === "iris") return `f/${trimmed(value, 1)}`;
  return f.axis === "zoom" ? `${trimmed(value * 1000, 1)} mm` : formatQuantity(value, "length");
}

/** `focus goes from lid to cup, at 1.2 m here`. */
function pullWords(f: Finding): string {
  const here = setting(f, number(f, "value"));
  if (f.axis !== "focus") return `the ${f.axis} goes through ${here}`;
  if (text(f, "follows")) return `focus stays on ${text(f, "follows")}, at ${here} here`;
  if (text(f, "to")) return `focus goes from ${text(f, "from")} to ${text(f, "to")}, at ${here} here`;
  return `focus goes through ${here}`;
}

function speedMessage(f: Finding, at: string): string {
  const [value, limit] = figures(f);
  const said = `The ${f.axis} motor ${VERBS[text(f, "of")]} at ${value}${at}, ${excess(f.measured ?? 0, f.limit ?? 0)} of ${limit}: ${pullWords(f)}`;
  const nearer = text(f, "to") ? ", or rack between things that are nearer to each other" : "";
  return `${said}; ${stretchWords(f) ?? "give it more time"}${nearer}`;
}

function scaleMessage(f: Finding, at: string): string {
  const end = setting(f, f.limit ?? NaN);
  const said = `The ${f.axis} motor's scale ends at ${end}, and is left${at}: ${pullWords(f)}`;
  return `${said}; beyond the end its angle is a guess: give \`scale\` a row there`;
}

function softMessage(f: Finding, at: string): string {
  const [value, limit] = figures(f);
  const off = formatQuantity(Math.abs((f.measured ?? 0) - (f.limit ?? 0)), "length");
  const side = text(f, "side");
  const place = side === "far" ? "beyond the far end" : "nearer than the near end";
  const said = `${text(f, "target")} is out of focus${at}: ${value} in front of the entrance pupil it is ${off} ${place} of the depth of field, ${limit}`;
  const lens = `f/${trimmed(number(f, "iris"), 1)}, focused at ${formatQuantity(number(f, "focus"), "length")} from the sensor`;
  const wide = `a point of it is ${trimmed(number(f, "blur"), 2)} times the circle of confusion wide (${lens})`;
  const stop = number(f, "stop");
  const iris = Number.isFinite(stop) ? `close the iris to f/${trimmed(stop, 1)} or more, or ` : "";
  return `${said}, and ${wide}; ${iris}focus on ${text(f, "target")}`;
}
