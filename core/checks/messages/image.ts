import { formatQuantity, trimmed } from "../../base/units.ts";
import { seconds } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { figures, number, stretchWords, text, type Words } from "./words.ts";

/** How the picture moves, and the margin around what is delivered. */
export const IMAGE_WORDS = {
  judder: (f, at) => (text(f, "of") === "repeats" ? strobeMessage(f, at) : crossingMessage(f, at)),
  blur: blurMessage,
  "crop-margin": marginMessage,
} satisfies Readonly<Record<string, Words>>;

const px = (value: number): string => formatQuantity(value, "pixels");

function crossingMessage(f: Finding, at: string): string {
  const [value, least] = figures(f);
  const short = (f.limit ?? 0) - (f.measured ?? 0);
  const less = short < 0.0005 ? "a hair" : seconds(short);
  const said = `${text(f, "what")} crosses the delivered picture in ${value}${at}${axisWords(f)}`;
  const rule =
    text(f, "by") === "tolerance"
      ? `the ${least} that the move allows`
      : `the ${least} of common practice at ${trimmed(number(f, "rate"), 3)} frames a second and a shutter of ${formatQuantity(number(f, "shutter"), "angle")}`;
  const step = `${px(number(f, "step"))} a frame, ${px(number(f, "allowed"))} at most`;
  const cure = `${stretchWords(f) ?? "give it more time"}, or hold a subject still in the frame`;
  const meant = text(f, "by") === "tolerance" ? "" : "; if it is meant, say `tolerance: { crossing: .. }`";
  return `${said}, ${less} less than ${rule} (${step}); ${cure}${meant}`;
}

/** ` while pan turns at 24 deg/s`. */
function axisWords(f: Finding): string {
  if (f.axis === undefined) return "";
  const isTurning = text(f, "axisType") === "rotary";
  const speed = formatQuantity(number(f, "axisSpeed"), isTurning ? "angle-speed" : "length-speed");
  return ` while ${f.axis} ${isTurning ? "turns" : "moves"} at ${speed}`;
}

/** A share of a step below which what repeats seems to stand. */
const STANDS = 0.01;

function strobeMessage(f: Finding, at: string): string {
  const [value, limit] = figures(f);
  const [periods, seeming] = [number(f, "periods"), number(f, "seeming")];
  const step = `${trimmed(periods, 2)} steps a frame`;
  const size = formatQuantity(Math.abs(seeming), "angle-speed");
  const isStill = Math.abs(periods - Math.round(periods)) < STANDS;
  const looks = isStill ? "stand" : seeming < 0 ? `turn backwards at ${size}` : `turn at ${size} only`;
  const said = `What repeats ${text(f, "count")} times round ${f.axis} goes on by ${step}${at}, as ${f.axis} turns at ${value}`;
  const why = `from half a step on frames cannot tell which way, and it seems to ${looks}`;
  const cure = stretchWords(f);
  return `${said}: ${why}; keep ${f.axis} below ${limit}${cure === undefined ? "" : `: ${cure}`}`;
}

function blurMessage(f: Finding, at: string): string {
  const [value, limit] = figures(f);
  const exposure = number(f, "exposure");
  const open = `1/${trimmed(1 / exposure, 1)} s at ${formatQuantity(number(f, "shutter"), "angle")}`;
  const more = px((f.measured ?? 0) - (f.limit ?? 0));
  const said = `${text(f, "what")} smears over ${value}${at} while the shutter is open (${open}), ${more} more than the ${limit} allowed`;
  const edges = `at the edges of the delivered picture the far background smears over ${px(number(f, "edges"))}`;
  return `${said}; ${edges}; ${stretchWords(f) ?? "give it more time"}, or shorten the shutter`;
}

function marginMessage(f: Finding): string {
  const [across, down] = [number(f, "leftAcross"), number(f, "leftDown")];
  const lies = text(f, "whole")
    ? "The whole captured picture is delivered, so no margin lies around it"
    : `Around the delivered crop lie ${px(across)} on the left and right and ${px(down)} at the top and bottom`;
  const takes = [
    takenBy("stabilising", number(f, "stabiliseAcross"), number(f, "stabiliseDown")),
    takenBy("framing errors", number(f, "framing"), number(f, "framing")),
    takenBy("the spread of passes", number(f, "passes"), number(f, "passes")),
  ].filter((each) => each !== "");
  const short = [
    ...(text(f, "sides").includes("across") ? [`${px(number(f, "shortAcross"))} on the left and right`] : []),
    ...(text(f, "sides").includes("down") ? [`${px(number(f, "shortDown"))} at the top and bottom`] : []),
  ];
  const cure = number(f, "stabiliseAcross") > 0 ? ", or lower `stabilise`" : ", or allow less error";
  return `${lies}; of each side ${takes.join(", ")}: short by ${short.join(" and ")}; deliver a smaller crop${cure}`;
}

function takenBy(what: string, across: number, down: number): string {
  if (across === 0 && down === 0) return "";
  return across === down ? `${what} may take ${px(across)}` : `${what} may take ${px(across)} and ${px(down)}`;
}
