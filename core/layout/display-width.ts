const PLAIN = /^[\x20-\x7e]*$/;
/** Letters of East Asian writing and pictures take two columns. */
const WIDE =
  /[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff01-\uff60\uffe0-\uffe6]|[\u{1f300}-\u{1faff}\u{20000}-\u{3fffd}]/u;
/** Marks over other letters, and what only joins letters, take none. */
const ZERO = /[\p{Mn}\p{Me}\p{Cf}]/u;

/** Columns that a text takes in a font whose letters are all of one width. */
export function displayWidth(text: string): number {
  if (PLAIN.test(text)) return text.length;
  let width = 0;
  for (const letter of text) width += ZERO.test(letter) ? 0 : WIDE.test(letter) ? 2 : 1;
  return width;
}
