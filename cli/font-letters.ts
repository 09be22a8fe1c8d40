/** Platform and encoding of the table that names every letter of Unicode (OpenType 1.9.1, `cmap`). */
const WINDOWS = 3;
const WHOLE_UNICODE = 10;
/** The format of such a table: groups of letters that follow one another. */
const GROUPS = 12;

/**
 * Letters of a text that a TrueType font has no glyph for, each once, in the order of the text. Blanks and what joins or
 * turns letters are none.
 */
export function lettersWithout(font: Uint8Array, text: string): string[] {
  const has = lettersOf(font);
  const drawn = [...new Set(text)].filter((letter) => !/[\s\p{C}\p{M}]/u.test(letter));
  return drawn.filter((letter) => !has(letter.codePointAt(0) ?? 0));
}

/** Tells of a code point whether the font has a glyph for it; of any, where it does not say. */
function lettersOf(font: Uint8Array): (code: number) => boolean {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const tag = (at: number): string => String.fromCharCode(...font.subarray(at, at + 4));
  const tables = Array.from({ length: view.getUint16(4) }, (_, i) => 12 + 16 * i);
  const record = tables.find((at) => tag(at) === "cmap");
  const cmap = record === undefined ? undefined : view.getUint32(record + 8);
  const entries =
    cmap === undefined ? [] : Array.from({ length: view.getUint16(cmap + 2) }, (_, i) => cmap + 4 + 8 * i);
  const entry = entries.find((at) => view.getUint16(at) === WINDOWS && view.getUint16(at + 2) === WHOLE_UNICODE);
  const table = cmap === undefined || entry === undefined ? undefined : cmap + view.getUint32(entry + 4);
  if (table === undefined || view.getUint16(table) !== GROUPS) return () => true;
  const groups = Array.from({ length: view.getUint32(table + 12) }, (_, i) => table + 16 + 12 * i);
  return (code) => groups.some((at) => view.getUint32(at) <= code && code <= view.getUint32(at + 4));
}
