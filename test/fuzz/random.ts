import { seededRandom } from "../../core/base/random.ts";

/** Random choices that a seed fixes. */
export interface Random {
  /** A whole number, 0 <= n < limit. */
  below(limit: number): number;
  pick<T>(from: readonly T[]): T;
}

export function randomChoices(seed: number): Random {
  const next = seededRandom(seed);
  const below = (limit: number): number => Math.floor(next() * limit);
  return { below, pick: (from) => from[below(from.length)] };
}
