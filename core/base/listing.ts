/** Names in a sentence: `a`, `b` or `c`; the first `most` of them. */
export function listing(words: readonly string[], most = 12): string {
  const shown = words.slice(0, most).map((word) => `\`${word}\``);
  if (words.length > most) return `${shown.join(", ")} and ${words.length - most} more`;
  if (shown.length < 2) return shown.join("");
  return `${shown.slice(0, -1).join(", ")} or ${shown[shown.length - 1]}`;
}
