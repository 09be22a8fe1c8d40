import type { MotionCode } from "../base/finding-code.ts";
import { nearestFrame } from "../base/rate.ts";
import { formatTimecode } from "../base/timecode.ts";
import { formatQuantity } from "../base/units.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { comparedFigures, excess, percent, seconds, secondsUp } from "./figures.ts";
import type { Finding } from "./finding.ts";

/** What of a move a message needs: how its times are called. */
export type TimeNames = Pick<ResolvedMove, "rate" | "startFrame">;

/** The codes that are found as data; those of the text come with their message. */
type RenderedCode =
  MotionCode | "axis-unset" | "internal-error" | "sharp-corner" | "branch-change" | "bad-number" | "over-determined";

/**
 * The message of a finding: where, the value, what is allowed, the cure. Every message of a finding of the motion is
 * written here and nowhere else.
 */
export function renderMessage(finding: Finding, names: TimeNames): string {
  const render = MESSAGES[finding.code as RenderedCode] as ((f: Finding, at: string) => string) | undefined;
  const often = finding.facts.spans === undefined ? "" : `, the worst of ${finding.facts.spans} times`;
  const at = finding.peak === undefined ? "" : ` at ${timeName(finding.peak, names)}${often}`;
  return render ? `${render(finding, at)}.` : `${finding.code}${at}.`;
}

/** `00:00:02:10 (frame 58)`: the label and the count of the frame nearest to `t` [s]. */
export function timeName(t: number, { rate, startFrame }: TimeNames): string {
  const frame = nearestFrame(rate, t);
  return `${formatTimecode(startFrame + frame, rate)} (frame ${frame})`;
}

/** Line of text that a related place is introduced by. */
export function renderNote(note: Finding["related"][number]["note"], finding: Finding): string {
  switch (note) {
    case "limit":
      return finding.axis === undefined ? "the limit is stated here" : `the limit of ${finding.axis} is stated here`;
    case "from-key":
      return `from here: ${text(finding, "fromKey") || "the key before"}`;
    case "to-key":
      return `to here: ${finding.key ?? "this key"}`;
    case "target":
      return `${text(finding, "target") || "the target"} stands here`;
    case "see":
      return finding.axis === undefined ? "see here" : `${finding.axis} is described here`;
  }
}

const MESSAGES: Readonly<Record<RenderedCode, (finding: Finding, at: string) => string>> = {
  "axis-range": rangeMessage,
  "axis-speed": (f, at) => limitMessage(f, at, f.dimension === "length-speed" ? "moves" : "turns"),
  "axis-accel": (f, at) => limitMessage(f, at, "accelerates"),
  "axis-jerk": (f, at) => limitMessage(f, at, "jerks"),
  "near-limit": (f, at) => {
    const [value, limit] = figures(f);
    const word = { speed: "speed", accel: "acceleration", jerk: "jerk" }[text(f, "of")] ?? "";
    return `${f.axis} uses ${percent(number(f, "share"))} of its ${word} limit${at}: ${value} of ${limit}`;
  },
  "out-of-reach": reachMessage,
  "aim-error": (f, at) => {
    const miss = Number.isFinite(f.measured)
      ? `${figures(f)[0]} from its framing${at}; the tolerance is ${figures(f)[1]}`
      : `behind the camera${at}`;
    return `${text(f, "target")} is ${miss}; the head cannot turn there: change the framing or the camera's place at ${f.key}`;
  },
  "out-of-frame": frameMessage,
  "aim-spin": spinMessage,
  "focus-near": (f, at) => {
    const [value, limit] = figures(f);
    const short = formatQuantity((f.limit ?? 0) - (f.measured ?? 0), "length");
    const on = text(f, "target") ? ` on ${text(f, "target")}` : "";
    const where = `Focus${on} is ${value} from the sensor plane${at}`;
    return `${where}, ${short} nearer than ${text(f, "lens")} can focus (${limit}); move the camera back or take another lens`;
  },
  expect: expectMessage,
  allow: (f) => text(f, "message"),
  "axis-unset": (f) =>
    `Nothing moves ${f.axis}: no key gives it a value and no aim or camera key solves it; give it a value in ${f.key ?? "the first key"}`,
  "sharp-corner": cornerMessage,
  "branch-change": branchMessage,
  "bad-number": (f) =>
    text(f, "fault") === "no-length"
      ? `The way to ${f.key} has no length: the camera is there already, and stays; delete \`path\`, or move one of the two keys`
      : `${arcFault(f)}; the camera goes straight to ${f.key} instead`,
  "over-determined": (f) =>
    `The path goes on smoothly at ${f.key}, so \`blend\` has no corner to round there; delete it`,
  "internal-error": (f) =>
    `${text(f, "part")} failed inside the program (${text(f, "cause")}); the other findings stand, but something may have gone unchecked`,
};

function expectMessage(f: Finding, at: string): string {
  const of = text(f, "of");
  const [value, bound] = Number.isFinite(f.measured)
    ? figures(f)
    : ["", formatQuantity(f.limit ?? 0, f.dimension ?? "number")];
  const [from, to] = [number(f, "from"), number(f, "to")];
  const span = from < to ? ` from ${seconds(from)} to ${seconds(to)}` : "";
  if (text(f, "side") === "without") {
    return `${of} has no value${at}, as the target is behind the camera; ${boundsWords(f)} is expected${span}`;
  }
  const wanted = `${text(f, "side") === "above" ? "at most" : "at least"} ${bound}`;
  return `${of} is ${value}${at}, but ${wanted} is expected${span}; change ${f.key ?? "the keys"}, or what is expected`;
}

function boundsWords(f: Finding): string {
  const [low, high] = [number(f, "low"), number(f, "high")];
  const say = (value: number): string => formatQuantity(value, f.dimension ?? "number");
  if (Number.isFinite(low) && Number.isFinite(high)) return `${say(low)} to ${say(high)}`;
  return Number.isFinite(high) ? `${say(high)} at most` : `${say(low)} at least`;
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
  const [now, then] = [number(f, "segment"), number(f, "stretched")];
  if (!(now > 0) || !Number.isFinite(then)) return "give it more time or raise the limit";
  const segment = `the ${seconds(now)} from ${text(f, "fromKey")} to ${text(f, "toKey")}`;
  return `stretch ${segment} to about ${secondsUp(then)}, or raise the limit`;
}

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

function reachMessage(f: Finding, at: string): string {
  if (text(f, "what") === "path") return pathReachMessage(f, at);
  if (text(f, "what") === "on-target") {
    const target = text(f, "target");
    return `${f.key} puts the entrance pupil on ${target} itself and aims at it, so there is no view; give the camera an offset from ${target}, or another aim`;
  }
  const isClaim = text(f, "status") === "out-of-reach";
  if (text(f, "what") === "aim") {
    const what = `The head ${isClaim ? "cannot hold" : "was not found able to hold"} the aim at ${text(f, "target")}${at}`;
    return `${what}; change the camera's place or the framing at ${f.key}`;
  }
  const place = `the place that ${f.key} asks for`;
  if (!isClaim)
    return `no axis values were found that bring the camera to ${place}; try another place or a key before it`;
  const named = place[0].toUpperCase() + place.slice(1);
  if (f.measured === undefined) return `${named} is out of the rig's reach`;
  const where = ["x", "y", "z"].map((axis) => (Math.round(number(f, axis) * 1000) / 1000 || 0).toFixed(3)).join(", ");
  const stopped = text(f, "stoppedBy");
  const by = stopped
    ? `; stopped by ${stopped}`
    : "; no axis is at an end of its range: the arm is at full stretch, or the rig has no axis that way";
  const distance = formatQuantity(f.measured, "length");
  return `${named} is ${distance} out of the rig's reach; the nearest place it gets to is [${where}]${by}`;
}

function pathReachMessage(f: Finding, at: string): string {
  const way = `the ${text(f, "path")} to ${f.key}`;
  if (f.measured === undefined) return `No axis values were found that follow ${way}${at}; lead it another way`;
  const distance = formatQuantity(f.measured, "length");
  const where = ["x", "y", "z"].map((axis) => (Math.round(number(f, axis) * 1000) / 1000 || 0).toFixed(3)).join(", ");
  const stopped = text(f, "stoppedBy");
  const by = stopped
    ? `; stopped by ${stopped}`
    : "; no axis is at an end of its range: the arm is at full stretch, or the rig has no axis that way";
  return `The rig cannot follow ${way}: it stays ${distance} off${at}, nearest at [${where}]${by}`;
}

function cornerMessage(f: Finding, at: string): string {
  if (text(f, "joint") === "parting") {
    const why = `What the path goes along with moves at ${f.key}${at}, and the path after it does not move alike`;
    return `${why}: the camera would jump in speed there; add \`blend\` to lead it over, or let the target rest`;
  }
  const what =
    text(f, "joint") === "curvature"
      ? `The path goes on in the same direction at ${f.key}, but its curvature steps${at}`
      : `The path turns by ${formatQuantity(number(f, "angle"), "angle")} at ${f.key}${at}`;
  return `${what}, and nothing says what to do there, so the camera rests; add \`stop: true\` if it is to, or \`blend\` with a length to lead it round`;
}

function branchMessage(f: Finding, at: string): string {
  if (text(f, "where") === "key") {
    const [miss] = figures(f);
    return `The camera comes to ${f.key} looking the other way round its head, ${miss} from its place; add a key before it, or wish the head's side with \`near\``;
  }
  const way = `the ${text(f, "path")} to ${f.key}`;
  if (f.axis === undefined) {
    return `Nothing leads along ${way}${at} in one go: the axes would have to change over to another way of standing; lead it another way, or add a key between`;
  }
  const [left, right] = [f.measured, f.limit].map((value) => formatQuantity(value ?? NaN, f.dimension ?? "number"));
  return text(f, "where") === "at-end"
    ? `Along ${way} ${f.axis} arrives at ${left}, but the key has it at ${right}: two ways of standing at one place; add a key between, or take over ${left} at ${f.key}`
    : `Along ${way} ${f.axis} would have to jump from ${left} to ${right}${at}: the axes change over to another way of standing; lead it another way, or add a key between`;
}

function arcFault(f: Finding): string {
  switch (text(f, "fault")) {
    case "via-straight":
      return `No circle goes through the start of the arc to ${f.key}, its \`via\` and its end: they are on one line, or two are the same; move \`via\` aside`;
    case "on-axis":
      return `The arc to ${f.key} begins or ends on its own axis, so it has no way round; move that key off the axis`;
    default:
      return `The arc to ${f.key} begins and ends in the same direction from its axis, so there is no angle to go round; for a whole turn add a key between`;
  }
}

function frameMessage(f: Finding, at: string): string {
  const what = text(f, "of") === "picture" ? "captured picture" : "delivered crop";
  const cure = `change the framing at ${f.key}, or allow it if it is meant`;
  if (text(f, "side") === "behind") return `${text(f, "target")} is behind the camera${at}; ${cure}`;
  const by = `${formatQuantity(f.measured ?? 0, "pixels")} outside the ${text(f, "side")} edge of the ${what}`;
  const framing = `[${number(f, "across").toFixed(3)}, ${number(f, "down").toFixed(3)}]`;
  return `${text(f, "target")} is ${by}${at}, at framing ${framing}; ${cure}`;
}

function spinMessage(f: Finding, at: string): string {
  const angle = formatQuantity(number(f, "angle"), "angle");
  const clear = formatQuantity(number(f, "clear"), "angle");
  const hold = formatQuantity(number(f, "enter"), "angle");
  const speed = Number.isFinite(f.measured)
    ? `turns at ${figures(f)[0]}${text(f, "limited") ? ` (limit ${figures(f)[1]})` : ""}`
    : "would have to turn at an unbounded speed";
  const why = `because the view passes ${angle} from the pan axis`;
  return (
    `${f.axis} ${speed}${at} ${why}; lead the view past at ${clear} or more, ` +
    `hold ${f.axis} at ${hold} over the crossing with \`aim: none\`, or let roll do the turn`
  );
}

const figures = (f: Finding): [string, string] =>
  comparedFigures(f.measured ?? NaN, f.limit ?? NaN, f.dimension ?? "number");

const text = (f: Finding, name: string): string => String(f.facts[name] ?? "");
const number = (f: Finding, name: string): number => Number(f.facts[name] ?? NaN);
