import { formatQuantity, trimmed } from "../../base/units.ts";
import { percent } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { figures, number, text, type Words } from "./words.ts";

/** What the rig carries and stands on. */
export const LOAD_WORDS = {
  payload: (f) => {
    const [mass, limit] = figures(f);
    const more = formatQuantity((f.measured ?? 0) - (f.limit ?? 0), "mass");
    return `The head carries ${mass} (${text(f, "parts")}), ${more} more than its limit of ${limit}; take a lighter lens or leave an attachment away`;
  },
  balance: balanceMessage,
  "tip-over": tipMessage,
} satisfies Readonly<Record<string, Words>>;

function balanceMessage(f: Finding, at: string): string {
  const dimension = text(f, "leaderType") === "linear" ? "length" : "angle";
  const where = `${text(f, "leader")} at ${formatQuantity(number(f, "value"), dimension)}`;
  const kilograms = number(f, "kilograms");
  const there = Number.isFinite(kilograms) ? ` (${massText(kilograms)} at the counterweight's arm)` : "";
  const left = `The arm is out of balance about ${f.axis}${at}: with ${where}, ${momentText(number(f, "moment"))}${there} are left`;
  if (!Number.isFinite(f.measured)) return `${left}, and nothing is there to be balanced; take the counterweight off`;
  const [share, limit] = figures(f);
  const found = `${left}, ${share} of what the load has with the arm level, and ${limit} may be`;
  const better = number(f, "better");
  const is = formatQuantity(number(f, "mass"), "mass");
  if (Number.isNaN(better)) return `${found}; no mass in the counterweight's place balances it at mid-lift: move it`;
  const ends = Number.isNaN(number(f, "low"))
    ? ""
    : `, and then ${momentText(number(f, "low"))} (${massText(number(f, "lowMass"))}) are left at the low end and ${momentText(number(f, "high"))} (${massText(number(f, "highMass"))}) at the high end`;
  const does = text(f, "cured") === "yes" ? "" : "; that is still too much, so move the counterweight too";
  return `${found}; ${formatQuantity(better, "mass")} in place of ${is} would balance it at mid-lift${ends}${does}`;
}

const CAUTION =
  "braking harder than the move does is not reckoned with, and this is no statement about safety: go by the rig's manual and the people responsible";

function tipMessage(f: Finding, at: string): string {
  const [share, limit] = [f.measured ?? 0, f.limit ?? 0];
  const still = number(f, "standing") < limit ? ", even standing still" : "";
  if (!Number.isFinite(share)) {
    return `The rig does not press on the floor${at}: it would lift off; slow the move down; ${CAUTION}`;
  }
  const point = `[${trimmed(number(f, "x"), 3)}, ${trimmed(number(f, "y"), 3)}] m from ${text(f, "of")}`;
  const way = formatQuantity(Math.abs(number(f, "distance")), "length");
  const found =
    share < 0
      ? `${way} (${percent(-share)} of the way from its middle) outside its support, so it may tip over${still}`
      : `${way} inside the edge of its support${still}, which leaves ${percent(share)} of the way from its middle, and ${percent(limit)} are to be left`;
  const cure = `${slowingText(f)}keep the arm over the base, or put another ${massUp(number(f, "ballast"))} low down in the middle of the support`;
  return `The rig presses on the floor at ${point}${at}, ${found}; ${cure}; ${CAUTION}`;
}

/** Nothing where standing still would not do either. */
function slowingText(f: Finding): string {
  if (number(f, "standing") < (f.limit ?? 0)) return "";
  const speed = text(f, "speed");
  return speed === "" ? "slow the move down, " : `slow the move down (\`speed: ${speed}\` is enough), `;
}

/** `34.2 N·m` with three digits that count. */
function momentText(moment: number): string {
  const digits = moment > 0 ? Math.min(3, Math.max(0, 2 - Math.floor(Math.log10(moment)))) : 0;
  return `${trimmed(moment, digits)} N·m`;
}

const massText = (mass: number): string => `${trimmed(mass, 2)} kg`;

/** Rounded up, so that it is enough. */
function massUp(mass: number): string {
  const step = mass < 10 ? 100 : 10;
  return `${Math.ceil(mass * step - 1e-9) / step} kg`;
}
