import type { Stated } from "./declared.ts";
import type { Reporter } from "./report.ts";

/** One name within a longer text, such as `pan` of `pan.speed`, with its own place; cures then replace it alone. */
export interface NamePart {
  readonly to: Reporter;
  readonly stated: Stated<string>;
}

/**
 * @param part A name that stands in `whole` as it is: the first time, or the last.
 */
export function namePart(to: Reporter, whole: Stated<string>, part: string, which: "first" | "last"): NamePart {
  const written = to.text.slice(whole.span.start, whole.span.end);
  const at = which === "first" ? written.indexOf(part) : written.lastIndexOf(part);
  const start = whole.span.start + Math.max(0, at);
  const span = at < 0 ? whole.span : { start, end: start + part.length };
  // Inside of a JSON string a name is written without quotes of its own, as in YAML.
  return { to: at < 0 ? to : { ...to, format: "yaml" }, stated: { value: part, span } };
}
