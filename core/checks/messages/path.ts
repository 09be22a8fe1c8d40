import { formatQuantity } from "../../base/units.ts";
import type { Finding } from "../finding.ts";
import { figures, number, text, type Words } from "./words.ts";

/** Places and paths that cannot be had as they are asked for. */
export const PATH_WORDS = {
  "out-of-reach": reachMessage,
  "sharp-corner": cornerMessage,
  "branch-change": branchMessage,
  "bad-number": (f) =>
    text(f, "fault") === "no-length"
      ? `The way to ${f.key} has no length: the camera is there already, and stays; delete \`path\`, or move one of the two keys`
      : `${arcFault(f)}; the camera goes straight to ${f.key} instead`,
  "over-determined": (f) =>
    `The path goes on smoothly at ${f.key}, so \`blend\` has no corner to round there; delete it`,
} satisfies Readonly<Record<string, Words>>;

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
