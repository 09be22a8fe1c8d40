import { formatQuantity } from "../../base/units.ts";
import { seconds } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { figures, number, text, type Words } from "./words.ts";

/** The move's own tests. */
export const EXPECT_WORDS = {
  expect: expectMessage,
} satisfies Readonly<Record<string, Words>>;

function expectMessage(f: Finding, at: string): string {
  const of = text(f, "of");
  const [value, bound] = Number.isFinite(f.measured)
    ? figures(f)
    : ["infinite", formatQuantity(f.limit ?? 0, f.dimension ?? "number")];
  const [from, to] = [number(f, "from"), number(f, "to")];
  const span = from < to ? ` from ${seconds(from)} to ${seconds(to)}` : "";
  if (text(f, "side") === "without") {
    const why = text(f, "why");
    return `${of} has no value${at}${why === "" ? "" : `, as ${why}`}; ${boundsWords(f)} is expected${span}`;
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
