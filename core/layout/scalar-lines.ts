/** A line of a scalar from its first letter to its last, in the scalar's own offsets. */
export interface ScalarLine {
  readonly start: number;
  readonly end: number;
}

/** The lines of a plain or quoted scalar that hold something. What is left out around them is folded by every reader. */
export function scalarLines(source: string, isDoubleQuoted: boolean): readonly ScalarLine[] {
  if (!source.includes("\n")) return [{ start: 0, end: source.length }];
  const lines: ScalarLine[] = [];
  let start = 0;
  for (const line of source.split("\n")) {
    const isLast = start + line.length === source.length;
    const isFirst = start === 0;
    const from = isFirst ? 0 : line.length - line.trimStart().length;
    let to = isLast ? line.length : line.trimEnd().length;
    // A blank behind a backslash is text.
    if (isDoubleQuoted && to < line.length && /(?<!\\)(?:\\\\)*\\$/.test(line.slice(0, to)) && line[to] !== "\r")
      to += 1;
    if (to > from) lines.push({ start: start + from, end: start + to });
    start += line.length + 1;
  }
  return lines;
}

export interface BlockLine extends ScalarLine {
  /** Blanks in front that are part of the text. */
  readonly extra: number;
}

/**
 * The lines of a block scalar's content that hold something; blank ones are line ends between them.
 *
 * @param stated Blanks in front of the content, where its header says so.
 */
export function blockLines(
  source: string,
  stated: number | undefined,
): { readonly indent: number; readonly pieces: readonly BlockLine[] } {
  const first = /^(?:[ ]*\r?\n)*( *)(?=[^ \r\n])/.exec(source);
  const indent = stated ?? first?.[1].length ?? 0;
  const pieces: BlockLine[] = [];
  let start = 0;
  for (const written of source.split("\n")) {
    const line = written.replace(/\r$/, "");
    const blanks = /^ */.exec(line)?.[0].length ?? 0;
    const isBlank = blanks === line.length;
    if (!isBlank) pieces.push({ start: start + blanks, end: start + line.length, extra: blanks - indent });
    // Blanks beyond the indentation are text, in a line of nothing else too.
    else if (blanks > indent && first) pieces.push({ start: start + indent, end: start + line.length, extra: 0 });
    start += written.length + 1;
  }
  return { indent, pieces };
}
