/** FNV-1a of 64 bits (Fowler, Noll and Vo) over the text in UTF-8, as 16 hexadecimal digits. */
export function textHash(text: string): string {
  let hash = 0xcbf29ce484222325n;
  for (const byte of utf8(text)) hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn;
  return hash.toString(16).padStart(16, "0");
}

/** Bytes of a text in UTF-8 (RFC 3629). */
function* utf8(text: string): Generator<number> {
  for (const letter of text) {
    const code = letter.codePointAt(0)!;
    if (code < 0x80) yield code;
    else {
      const more = code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
      yield ((0xff << (7 - more)) & 0xff) | (code >> (6 * more));
      for (let i = more - 1; i >= 0; i--) yield 0x80 | ((code >> (6 * i)) & 0x3f);
    }
  }
}

/** Numbers equal names in the order in which they come, from 1. */
export function ordinals(): (name: string) => number {
  const seen = new Map<string, number>();
  return (name) => {
    const next = (seen.get(name) ?? 0) + 1;
    seen.set(name, next);
    return next;
  };
}

/**
 * What makes a result known again in the next run. It says nothing of lines and values: both move while the finding stays.
 * `primaryLocationLineHash` is what code hosts look at; one that is missing they make from the text of the line, and a finding
 * whose number is edited would be another one.
 */
export function fingerprintsOf(name: string, ordinal: number): Record<string, string> {
  const hash = `${textHash(name)}:${ordinal}`;
  return { "findingElement/v1": hash, primaryLocationLineHash: hash };
}
