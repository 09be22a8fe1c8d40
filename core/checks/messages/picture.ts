import { formatQuantity } from "../../base/units.ts";
import type { Finding } from "../finding.ts";
import { figures, number, text, type Words } from "./words.ts";

/** Where the subject is in the picture, and the nearest focus. */
export const PICTURE_WORDS = {
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
    if ((f.measured ?? 0) <= 0) {
      return `${text(f, "target") || "What focus is to be on"} is behind the sensor plane${at}: no lens focuses there; turn the camera towards it, or focus on something else`;
    }
    const where = `Focus${on} is ${value} from the sensor plane${at}`;
    return `${where}, ${short} nearer than ${text(f, "lens")} can focus (${limit}); move the camera back or take another lens`;
  },
} satisfies Readonly<Record<string, Words>>;

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
