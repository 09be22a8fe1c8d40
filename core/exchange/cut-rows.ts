/** The first rows that take at most `room` bytes in UTF-8 with their line ends, and how many are left. */
export function cutRows(
  rows: readonly string[],
  room: number,
): { readonly kept: readonly string[]; readonly left: number } {
  let bytes = 0;
  const end = rows.findIndex((row) => (bytes += byteLength(row) + 1) > room);
  return end < 0 ? { kept: rows, left: 0 } : { kept: rows.slice(0, end), left: rows.length - end };
}

/** Bytes of a text in UTF-8 (RFC 3629). */
export function byteLength(text: string): number {
  let bytes = 0;
  for (const letter of text) {
    const code = letter.codePointAt(0)!;
    bytes += code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
  }
  return bytes;
}
