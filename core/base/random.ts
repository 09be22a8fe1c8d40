/** Draws numbers of 0 <= x < 1, the same ones for the same seed on every machine. */
export type Random = () => number;

/** A small generator of 32 bits of state (the public-domain "mulberry32" mix): for starts of a search, not for secrets. */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
