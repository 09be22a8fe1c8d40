/** What a terminal or a reader may take for something else than letters: controls, and marks that turn text around. */
const HIDDEN =
  // eslint-disable-next-line no-control-regex -- it is these that are looked for
  /[\u0000-\u001f\u007f-\u009f\u061c\u200b\u200e\u200f\u2028\u2029\u202a-\u202e\u2060-\u2069\ufeff]|\p{Cs}/gu;

/** Text of others on one line and as it is: controls and marks that turn text around are shown by their numbers. */
export function plainWords(text: string): string {
  return text.replace(HIDDEN, (letter) => {
    const code = letter.charCodeAt(0);
    return code < 0x100 ? `\\x${code.toString(16).padStart(2, "0")}` : `\\u${code.toString(16).padStart(4, "0")}`;
  });
}
