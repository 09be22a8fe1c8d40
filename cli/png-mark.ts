import { chunkSum } from "./png-sum.ts";

/** Length of the signature and the header chunk that every PNG begins with (PNG, third edition, 5.2 and 11.2.1). */
const HEAD = 8 + 12 + 13;
const KEYWORD = "Software\0Movewright";

/** The PNG with a text chunk behind its header that says which program made it (PNG, third edition, 11.3.3.2). */
export function markPng(png: Uint8Array): Uint8Array {
  const body = new TextEncoder().encode(`tEXt${KEYWORD}`);
  const chunk = new Uint8Array(body.length + 8);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, body.length - 4);
  chunk.set(body, 4);
  view.setUint32(body.length + 4, chunkSum(body));
  const marked = new Uint8Array(png.length + chunk.length);
  marked.set(png.subarray(0, HEAD), 0);
  marked.set(chunk, HEAD);
  marked.set(png.subarray(HEAD), HEAD + chunk.length);
  return marked;
}

/** True for the beginning of a PNG of ours. */
export const isMarkedPng = (start: string): boolean => start.slice(0, 200).includes(`tEXt${KEYWORD}`);
