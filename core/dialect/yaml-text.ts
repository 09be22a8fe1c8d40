/** How texts stand in YAML: without quotes only where no reader of YAML 1.1 or 1.2 takes them for something else. */

/** Letters, digits and what stands in names, paths and quantities; a first character that means nothing by itself. */
const PLAIN =
  /^(?:[\p{L}\p{N}_]|[./](?=[\p{L}\p{N}_./])|[-+](?=[\d.]))(?:[\p{L}\p{M}\p{N}_ .+\-/%#°²³'()=~*,:;!?&<>|@$^]*[\p{L}\p{M}\p{N}_.+\-/%°²³')!?])?$/u;
/** `yes` and `off` are truth values in YAML 1.1. */
const WORDS = /^(?:null|true|false|yes|no|on|off|y|n)$/i;
/** `1:30` is a number in YAML 1.1, `2024-01-01` a date. */
const NUMBERS = /^[-+]?(?:\.?\d[\d_.,:;]*(?:[eE][-+]?\d+)?|0[xob][\da-f_]+|\.inf|\.nan|\d+-\d+-\d+.*)$/i;
/** A comment, or the name of a field. */
const MARKS = /\s#|:(?:\s|$)/;

/** True for a text that stands as it is, by itself or within brackets. */
export function isPlainText(text: string, where: "block" | "flow"): boolean {
  if (!PLAIN.test(text) || WORDS.test(text) || NUMBERS.test(text) || MARKS.test(text)) return false;
  return where === "block" || !/[,:]/.test(text);
}

/** True for the name of a field that needs no quotes. Our own field `on` has none anywhere. */
export const isPlainName = (name: string): boolean =>
  name === "on" || (/^[\p{L}_]/u.test(name) && isPlainText(name, "flow"));

/** In double quotes, which YAML reads as JSON does; with escapes for what cannot be seen or does not survive in a file. */
export function quoted(text: string): string {
  return JSON.stringify(text).replace(/[\u007f-\u009f\u2028\u2029\ufeff\p{Cs}]/gu, escaped);
}

const escaped = (one: string): string => `\\u${one.charCodeAt(0).toString(16).padStart(4, "0")}`;
