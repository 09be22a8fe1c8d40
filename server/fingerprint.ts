import type { FileId } from "../core/base/span.ts";
import type { SourceState } from "../core/model/sources.ts";

/**
 * A short name of a set of texts: equal for equal texts in any order of looking. 106 bits of two independent hashes
 * (cyrb53, public domain, with two seeds); not a defence against forgery, which is not needed here.
 */
export function fingerprintOf(texts: ReadonlyMap<FileId, SourceState>, extra = ""): string {
  const parts = [...texts]
    .sort(([one], [other]) => (one < other ? -1 : one > other ? 1 : 0))
    .map(([file, state]) => `${file.length}:${file}${state.state}:${contentOf(state)}`);
  return hash(`${extra}\n${parts.join("\n")}`);
}

function contentOf(state: SourceState): string {
  if (state.state === "bytes") return state.stamp;
  return state.state === "text" ? hash(state.text) : "";
}

/** 26 hexadecimal digits that stand for a text. */
export function hash(text: string): string {
  return half(text, 0) + half(text, 0x9e3779b9);
}

function half(text: string, seed: number): string {
  let high = 0xdeadbeef ^ seed;
  let low = 0x41c6ce57 ^ seed;
  for (let idx = 0; idx < text.length; idx += 1) {
    const unit = text.charCodeAt(idx);
    high = Math.imul(high ^ unit, 2654435761);
    low = Math.imul(low ^ unit, 1597334677);
  }
  high = Math.imul(high ^ (high >>> 16), 2246822507) ^ Math.imul(low ^ (low >>> 13), 3266489909);
  low = Math.imul(low ^ (low >>> 16), 2246822507) ^ Math.imul(high ^ (high >>> 13), 3266489909);
  const number = 4294967296 * (2097151 & low) + (high >>> 0);
  return number.toString(16).padStart(14, "0");
}
