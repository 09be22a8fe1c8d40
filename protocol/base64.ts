const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const PAD = "=";

/** Chunk of letters joined at a time, so that no single call gets more arguments than an engine allows. */
const CHUNK = 8192;

/**
 * Bytes to base64 (RFC 4648, padded). Written out here because the same code runs where neither `Buffer` (webview, worker)
 * nor a typed `btoa` (Node's typings of this folder) is at hand.
 */
export function encodeBase64(bytes: Uint8Array): string {
  const codes = letterCodes();
  const whole = bytes.length - (bytes.length % 3);
  const out = new Uint8Array((whole / 3) * 4);
  for (let from = 0, to = 0; from < whole; from += 3, to += 4) {
    const bits = (bytes[from] << 16) | (bytes[from + 1] << 8) | bytes[from + 2];
    out[to] = codes[bits >> 18];
    out[to + 1] = codes[(bits >> 12) & 63];
    out[to + 2] = codes[(bits >> 6) & 63];
    out[to + 3] = codes[bits & 63];
  }
  return asText(out) + encodeTail(bytes, whole);
}

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

function encodeTail(bytes: Uint8Array, whole: number): string {
  const rest = bytes.length - whole;
  if (rest === 0) return "";
  const bits = (bytes[whole] << 16) | ((rest === 2 ? bytes[whole + 1] : 0) << 8);
  const third = rest === 2 ? LETTERS[(bits >> 6) & 63] : PAD;
  return LETTERS[bits >> 18] + LETTERS[(bits >> 12) & 63] + third + PAD;
}

function letterCodes(): Uint8Array {
  return Uint8Array.from(LETTERS, (letter) => letter.charCodeAt(0));
}

function letterValues(): Uint8Array {
  const values = new Uint8Array(128).fill(255);
  for (let idx = 0; idx < LETTERS.length; idx += 1) values[LETTERS.charCodeAt(idx)] = idx;
  return values;
}

function asText(codes: Uint8Array): string {
  const parts: string[] = [];
  for (let from = 0; from < codes.length; from += CHUNK) {
    parts.push(String.fromCharCode(...codes.subarray(from, from + CHUNK)));
  }
  return parts.join("");
}
