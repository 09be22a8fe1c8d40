import type { FileId } from "../core/base/span.ts";
import type { SourceState } from "../core/model/sources.ts";

/**
 * A short name of a set of texts: equal for equal texts in any order of looking. 106 bits of two independent hashes
 * (cyrb53, public domain, with two seeds); not a defence against forgery, which is not needed here.
 */
export function fingerprintOf(texts: ReadonlyMap<FileId, SourceState>): string {
  const parts = [...texts]
    .sort(([one], [other]) => (one < other ? -1 : one > other ? 1 : 0))
    .map(([file, state]) => `${file.length}:${file}${state.state}:${contentOf(state)}`);
  return hash(parts.join("\n"));
}

function contentOf(state: SourceState): string {
  if (state.state === "bytes") return state.stamp;
  return state.state === "text" ? hash(state.text) : "";
}

/** 28 hexadecimal digits that stand for a text. */
export function hash(text: string): string {
  let [high, low, otherHigh, otherLow] = [0xdeadbeef, 0x41c6ce57, 0xdeadbeef ^ SECOND_SEED, 0x41c6ce57 ^ SECOND_SEED];
  // Texts are long: both hashes are made in one pass.
  for (let idx = 0; idx < text.length; idx += 1) {
    const unit = text.charCodeAt(idx);
    high = Math.imul(high ^ unit, 2654435761);
    low = Math.imul(low ^ unit, 1597334677);
    otherHigh = Math.imul(otherHigh ^ unit, 2654435761);
    otherLow = Math.imul(otherLow ^ unit, 1597334677);
  }
  return digits(high, low) + digits(otherHigh, otherLow);
}

const SECOND_SEED = 0x9e3779b9;

function digits(high: number, low: number): string {
  const mixed = Math.imul(high ^ (high >>> 16), 2246822507) ^ Math.imul(low ^ (low >>> 13), 3266489909);
  const last = Math.imul(low ^ (low >>> 16), 2246822507) ^ Math.imul(mixed ^ (mixed >>> 13), 3266489909);
  return (4294967296 * (2097151 & last) + (mixed >>> 0)).toString(16).padStart(14, "0");
}
