import { plainWords } from "../../core/base/plain-words.ts";

/** Where a byte that is no UTF-8 is kept in a text: half of a pair, which no text of UTF-8 has. */
const ODD = 0xdc00;
const HAS_ODD = /[\udc80-\udcff]/u;
const ODDS = /[\udc80-\udcff]/gu;

/**
 * A file's name from git's bytes. What is no UTF-8 in it becomes one letter for each byte (as PEP 383 has it), so that two
 * names are equal only if their bytes are, and `nameBytes` gives them back.
 */
export function nameOfBytes(bytes: Uint8Array): string {
  const text = Buffer.from(bytes).toString("utf8");
  if (!text.includes("\ufffd") || Buffer.from(text).equals(bytes)) return text;
  const parts: string[] = [];
  for (let at = 0; at < bytes.length;) {
    const length = lengthAt(bytes, at);
    if (length === 0) parts.push(String.fromCharCode(ODD + bytes[at]));
    else parts.push(Buffer.from(bytes.subarray(at, at + length)).toString("utf8"));
    at += Math.max(length, 1);
  }
  return parts.join("");
}

/** The bytes that `nameOfBytes` made a name of. */
export function nameBytes(name: string): Buffer {
  if (!isOddName(name)) return Buffer.from(name);
  const parts = name.split(/([\udc80-\udcff])/u);
  return Buffer.concat(parts.map((part, i) => (i % 2 === 1 ? Buffer.of(part.charCodeAt(0) - ODD) : Buffer.from(part))));
}

/** True for a name that the disk has in bytes that are no UTF-8. A pair's own halves are no such bytes. */
export const isOddName = (name: string): boolean => HAS_ODD.test(name);

/** A name as people read it, on one line and of no other name: `caf\xe9.move.yaml`. */
export function shownName(name: string): string {
  return plainWords(name.replace(/\\/g, "\\\\").replace(ODDS, (letter) => `\\x${hexOf(letter)}`));
}

const hexOf = (letter: string): string => (letter.charCodeAt(0) - ODD).toString(16);

/** Bytes of the letter at `at`, 0 where none is well formed. */
function lengthAt(bytes: Uint8Array, at: number): number {
  const first = bytes[at];
  const length = first < 0x80 ? 1 : first < 0xc2 ? 0 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : first < 0xf5 ? 4 : 0;
  if (length <= 1 || bytes.length < at + length) return length === 1 ? 1 : 0;
  const letter = Buffer.from(bytes.subarray(at, at + length));
  return Buffer.from(letter.toString("utf8")).equals(letter) ? length : 0;
}
