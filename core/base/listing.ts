/** Names in a sentence: `a`, `b` or `c`; the first `most` of them. */
export function listing(words: readonly string[], last: "or" | "and" = "or", most = 12): string {
  const shown = words.slice(0, most).map((word) => `\`${word}\``);
  if (words.length > most) return `${shown.join(", ")} and ${words.length - most} more`;
  if (shown.length < 2) return shown.join("");
  return `${shown.slice(0, -1).join(", ")} ${last} ${shown[shown.length - 1]}`;
}

/** How a message about an unknown name goes on: with the nearest known one, else with what is known. */
export function nameAdvice(nearest: string | undefined, known: readonly string[], none: string): string {
  if (nearest !== undefined) return `Did you mean \`${nearest}\`?`;
  return known.length > 0 ? `Known: ${listing(known, "and")}.` : none;
}
