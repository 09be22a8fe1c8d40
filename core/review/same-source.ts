import type { SourceState } from "../model/sources.ts";

/** True when a file holds the same on both sides. Of what is no text the bytes are compared where the stamps differ. */
export function isSameSource(before: SourceState, after: SourceState): boolean {
  if (before.state === "text") return after.state === "text" && before.text === after.text;
  if (before.state !== "bytes" || after.state !== "bytes") return before.state === after.state;
  if (before.size !== after.size) return false;
  if (before.stamp === after.stamp) return true;
  const [was, is] = [before.content(), after.content()];
  return was !== undefined && is !== undefined && was.every((byte, idx) => byte === is[idx]);
}
