const CHUNK = 4096;
const UNREADABLE = 0xfffd;

/** The text of UTF-8 bytes (RFC 3629), written out because core knows no decoder. A byte that fits nowhere becomes U+FFFD. */
export function decodeUtf8(bytes: Uint8Array): string {
  const parts: string[] = [];
  let codes: number[] = [];
  for (let at = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0; at < bytes.length;) {
    const first = bytes[at];
    const more = first < 0x80 ? 0 : first < 0xc2 ? -1 : first < 0xe0 ? 1 : first < 0xf0 ? 2 : first < 0xf5 ? 3 : -1;
    let code = more === 0 ? first : first & (0x3f >> more);
    let taken = 1;
    while (taken <= more && (bytes[at + taken] & 0xc0) === 0x80) {
      code = (code << 6) | (bytes[at + taken] & 0x3f);
      taken += 1;
    }
    codes.push(more < 0 || taken <= more || code > 0x10ffff ? UNREADABLE : code);
    at += taken;
    if (codes.length < CHUNK) continue;
    parts.push(String.fromCodePoint(...codes));
    codes = [];
  }
  return parts.join("") + String.fromCodePoint(...codes);
}
