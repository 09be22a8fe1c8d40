import { formatQuantity } from "../../base/units.ts";
import type { Finding } from "../finding.ts";
import { figures, number, text, type Words } from "./words.ts";

/** How well passes repeat. */
export const PASS_WORDS = {
  match: (f, at) => {
    const [value, limit] = figures(f);
    const more = px((f.measured ?? 0) - (f.limit ?? 0));
    const last = `Pass ${number(f, "last")} (${text(f, "pass")})`;
    const off = `may be ${value} off pass 1 at ${text(f, "target")}${at} (95 %; 1σ ${px(number(f, "sigma"))})`;
    const cause = `${more} more than the ${limit} allowed; causes: ${text(f, "causes")}`;
    return `${last} ${off}, ${cause}; ${passAdvice(f)}`;
  },
} satisfies Readonly<Record<string, Words>>;

const px = (pixels: number): string => formatQuantity(pixels, "pixels");

function passAdvice(f: Finding): string {
  const good = number(f, "good");
  if (good >= 2) return `measure in again after pass ${good}, or take fewer passes`;
  const alone = number(f, "alone");
  if (alone <= (f.limit ?? 0)) return "already pass 2 is beyond it: measure in again before each pass, or allow more";
  return `already pass 2 is beyond it, and measuring in does not help, as the axes come back to ${px(alone)} at best: allow more`;
}
