const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const PAD = "=";

/** Base64 to bytes. `undefined` when the text is not padded base64. */
export function decodeBase64(text: string): Uint8Array | undefined {
  if (text.length % 4 !== 0) return undefined;
  const padding = text.endsWith(PAD + PAD) ? 2 : text.endsWith(PAD) ? 1 : 0;
  const values = letterValues();
  const bytes = new Uint8Array((text.length / 4) * 3 - padding);
  for (let from = 0, to = 0; from < text.length; from += 4, to += 3) {
    let bits = 0;
    for (let idx = 0; idx < 4; idx += 1) {
      const isPadding = from + idx >= text.length - padding;
      const code = text.charCodeAt(from + idx);
      const value = isPadding ? 0 : code < 128 ? values[code] : 255;
      if (value === 255) return undefined;
      bits = (bits << 6) | value;
    }
    // Writes past the end of a typed array are dropped, which is what the padding asks for.
    bytes[to] = bits >> 16;
    bytes[to + 1] = (bits >> 8) & 255;
    bytes[to + 2] = bits & 255;
  }
  return bytes;
}

function letterValues(): Uint8Array {
  const values = new Uint8Array(128).fill(255);
  for (let idx = 0; idx < LETTERS.length; idx += 1) values[LETTERS.charCodeAt(idx)] = idx;
  return values;
}
