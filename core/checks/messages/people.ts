import { formatQuantity } from "../../base/units.ts";
import { excess, secondsUp } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { figures, number, text, type Words } from "./words.ts";

/** People near the rig. */
export const PEOPLE_WORDS = {
  people: (f, at) => `${text(f, "what") === "fast" ? fastMessage(f, at) : nearMessage(f, at)}. ${CAUTION}`,
} satisfies Readonly<Record<string, Words>>;

const CAUTION =
  "This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set";

function nearMessage(f: Finding, at: string): string {
  const [distance, clearance] = figures(f);
  const [part, person] = [text(f, "part"), text(f, "target")];
  const short = formatQuantity((f.limit ?? 0) - (f.measured ?? 0), "length");
  const where =
    (f.measured ?? 0) < 0
      ? `${part} reaches ${formatQuantity(-(f.measured ?? 0), "length")} into ${person}${at}`
      : `${part} is ${distance} from ${person}${at}`;
  return `${where}, ${short} nearer than the clearance of ${clearance}; lead the move past at a distance, or have ${person} stand elsewhere`;
}

function fastMessage(f: Finding, at: string): string {
  const [speed, limit] = figures(f);
  const [part, person] = [text(f, "part"), text(f, "target")];
  const distance = Math.max(0, number(f, "distance"));
  const where = `A point of ${part} moves at ${speed}${at}, ${formatQuantity(distance, "length")} from ${person}`;
  const near = formatQuantity(number(f, "near"), "length");
  const rule = excess(f.measured ?? 0, f.limit ?? 0, "the reduced speed of ISO 10218-1");
  const asked = `${limit} within ${near} of people`;
  return `${where}, ${rule} (${asked}); ${slowCure(f)}, or have ${person} stand elsewhere`;
}

function slowCure(f: Finding): string {
  const then = number(f, "stretched");
  if (0 < then) return `let the way back take ${secondsUp(then)}`;
  const speed = text(f, "speed");
  return speed === "" ? "slow it down" : `slow the move down (\`speed: ${speed}\` is enough)`;
}
