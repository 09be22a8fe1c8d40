/** Checksum of a chunk's type and data (PNG, third edition, annex D). */
export function chunkSum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? 0xedb88320 ^ (sum >>> 1) : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}
