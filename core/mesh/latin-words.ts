/**
 * Words of a text between blanks, read from its bytes without making a text of all of it. Bytes beyond ASCII stand for
 * letters of their own number: numbers and keywords, which are looked for, have none.
 */
export interface WordReader {
  /** The next word of the line, or "" at its end. */
  word(): string;
  /** The next word as a number; NaN for another word or none. */
  number(): number;
  /** Goes to the next line; false at the end. */
  line(): boolean;
}

const SPACE = 32;
const NEWLINE = 10;
const RETURN = 13;
const MOST_LETTERS = 200;
/** At the end of a line: it goes on in the next. */
const CONTINUED = "\\";

export function readWords(bytes: Uint8Array): WordReader {
  let at = 0;
  let isFirst = true;
  const isEnd = (byte: number): boolean => byte === NEWLINE || byte === RETURN;
  const word = (): string => {
    while (at < bytes.length && bytes[at] <= SPACE && !isEnd(bytes[at])) at += 1;
    const begin = at;
    while (at < bytes.length && bytes[at] > SPACE) at += 1;
    const text = String.fromCharCode(...bytes.subarray(begin, Math.min(at, begin + MOST_LETTERS)));
    if (text !== CONTINUED) return text;
    while (at < bytes.length && isEnd(bytes[at])) at += 1;
    return word();
  };
  return {
    word,
    number() {
      const text = word();
      return text === "" ? NaN : Number(text);
    },
    line() {
      if (isFirst) {
        isFirst = false;
        return bytes.length > 0;
      }
      while (at < bytes.length && !isEnd(bytes[at])) at += 1;
      while (at < bytes.length && isEnd(bytes[at])) at += 1;
      return at < bytes.length;
    },
  };
}
