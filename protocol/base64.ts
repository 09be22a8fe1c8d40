const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const PAD = "=";

/** Chunk of letters joined at a time, so that no single call gets more arguments than an engine allows. */
const CHUNK = 8192;

/**
 * Bytes to base64 (RFC 4648, padded); `core/base/base64.ts` reads it. Written out here because the same code runs where neither `Buffer` (webview, worker)
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

function asText(codes: Uint8Array): string {
  const parts: string[] = [];
  for (let from = 0; from < codes.length; from += CHUNK) {
    // Spread, the same takes ten times as long.
    parts.push(String.fromCharCode.apply(null, codes.subarray(from, from + CHUNK) as unknown as number[]));
  }
  return parts.join("");
}
