/** What a plain word of YAML may not hold, or may not begin or end with; and what would be read as something else. */
const NEEDS_QUOTES =
  /[,{}[\]"\\\n]|:(?=\s|$)|\s#|^[-?](?=\s|$)|^[#&*!|>'%@`\s]|\s$|^$|^(?:true|false|null|~)$|^[-+.\d][\d.eE+-]*$/i;

/** A text as a scalar: in quotes in JSON, and in YAML where it could not stand plain. */
export function quotedName(text: string, json: boolean): string {
  return json || NEEDS_QUOTES.test(text) ? JSON.stringify(text) : text;
}
