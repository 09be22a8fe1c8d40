/** A user's text as plain words in Markdown: nothing in it is read as markup, a link or a table's bar. */
export function plain(text: string): string {
  return text.replace(/[\\`*_{}[\]()<>#+!|~&$]/g, (mark) => `\\${mark}`).replace(/\s+/g, " ");
}

/** A user's text as code. A grave accent in it would end the code, so it is shown as an apostrophe. */
export function code(text: string): string {
  return `\`${text.replace(/`/g, "'").replace(/\|/g, "\\|").replace(/\s+/g, " ")}\``;
}

/** A table; the first column to the left, numbers to the right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const rule = head.map((_, idx) => (idx === 0 ? ":--" : "--:"));
  return [line(head), line(rule), ...rows.map(line)].join("\n");
}

/** Parts of a hover, one below the other. */
export function paragraphs(parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== "").join("\n\n");
}
