/** What a terminal or a reader may take for something else than letters: controls, and marks that turn text around. */
// eslint-disable-next-line no-control-regex -- it is these that are looked for
const HIDDEN = /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/g;

/** Text of others, on one line and as it is: controls and marks that turn text around are shown by their numbers. */
export function plainWords(text: string): string {
  return text.replace(HIDDEN, (letter) => {
    const code = letter.charCodeAt(0);
    return code < 0x100 ? `\\x${code.toString(16).padStart(2, "0")}` : `\\u${code.toString(16).padStart(4, "0")}`;
  });
}
