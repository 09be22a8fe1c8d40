const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const PAD = "=";

/** Base64 to bytes. `undefined` when the text is not padded base64. */
export function decodeBase64(text: string): Uint8Array | undefined {
  if (text.length % 4 !== 0) return undefined;
  const padding = text.endsWith(PAD + PAD) ? 2 : text.endsWith(PAD) ? 1 : 0;
  const values = letterValues();
  const bytes = new Uint8Array((text.length / 4) * 3 - padding);
  const whole = padding === 0 ? text.length : text.length - 4;
  if (!readGroups(text, whole, values, bytes)) return undefined;
  if (padding === 0) return bytes;
  const last = new Uint8Array(3);
  const letters = text.slice(whole, text.length - padding).padEnd(4, LETTERS[0]);
  if (!readGroups(letters, 4, values, last)) return undefined;
  bytes.set(last.subarray(0, 3 - padding), (whole / 4) * 3);
  return bytes;
}

/** Takes carry megabytes: a group of four letters goes through one check. */
function readGroups(text: string, length: number, values: Uint8Array, bytes: Uint8Array): boolean {
  for (let from = 0, to = 0; from < length; from += 4, to += 3) {
    const a = text.charCodeAt(from);
    const b = text.charCodeAt(from + 1);
    const c = text.charCodeAt(from + 2);
    const d = text.charCodeAt(from + 3);
    if ((a | b | c | d) > 127) return false;
    const bits = (values[a] << 18) | (values[b] << 12) | (values[c] << 6) | values[d];
    if ((values[a] | values[b] | values[c] | values[d]) > 63) return false;
    bytes[to] = bits >> 16;
    bytes[to + 1] = (bits >> 8) & 255;
    bytes[to + 2] = bits & 255;
  }
  return true;
}

function letterValues(): Uint8Array {
  const values = new Uint8Array(128).fill(255);
  for (let idx = 0; idx < LETTERS.length; idx += 1) values[LETTERS.charCodeAt(idx)] = idx;
  return values;
}
