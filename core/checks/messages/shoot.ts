import type { Words } from "./words.ts";

/** The day of a shoot. */
export const SHOOT_WORDS = {} satisfies Readonly<Record<string, Words>>;
