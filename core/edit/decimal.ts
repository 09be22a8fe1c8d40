import { trimmed } from "../base/units.ts";

/** Decimals that are written at most: what doubles hold of the sizes of a set. */
const MOST = 15;

/** The shortest decimal for which `isGood` holds, `undefined` where none does. */
export function shortestDecimal(value: number, isGood: (written: string) => boolean): string | undefined {
  for (let digits = 0; digits <= MOST; digits++) {
    const written = trimmed(value, digits);
    if (isGood(written)) return written;
  }
  return undefined;
}
