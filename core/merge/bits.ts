/** Which side a reader takes of every clash. */
export type Choice = "ours" | "theirs";

/** A stretch of text of which both sides made something else. */
export interface Clash {
  readonly ours: string;
  readonly theirs: string;
  /** True for two things of which each is shown whole, however much they have in common. */
  readonly isWhole?: true;
}

/** A merged text is a row of bits: what both sides agree on, and clashes. */
export type Bit = string | Clash;

/** A clash, or no clash where both say the same. */
export const clash = (ours: string, theirs: string): Bit => (ours === theirs ? ours : { ours, theirs });

/** The text as it is when one side is taken of every clash. */
export function flat(bits: readonly Bit[], choice: Choice): string {
  return bits.map((bit) => (typeof bit === "string" ? bit : bit[choice])).join("");
}

/** True where nothing clashes. */
export const isClean = (bits: readonly Bit[]): boolean => bits.every((bit) => typeof bit === "string");
