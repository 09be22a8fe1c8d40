import type { LayoutToken } from "./layout-token.ts";

/** Blanks between two tokens of one line, before columns are aligned. */
export function spacesBetween(text: string, before: LayoutToken, token: LayoutToken): number {
  if (token.kind === "comment") return 1;
  if (before.kind === "open") return token.kind !== "close" && text[before.start] === "{" ? 1 : 0;
  // A bracket that follows a colon with nothing between would be read as part of a name by some readers.
  if (token.kind === "close") return text[token.start] === "}" || before.kind === "colon" ? 1 : 0;
  if (token.kind === "comma") return 0;
  // The name of an anchor may hold a colon.
  if (token.kind === "colon")
    return before.kind === "scalar" || before.kind === "more" || before.kind === "close" ? 0 : 1;
  return 1;
}
