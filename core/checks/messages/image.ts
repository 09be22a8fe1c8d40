import type { Words } from "./words.ts";

/** How the picture moves, and the margin around what is delivered. */
export const IMAGE_WORDS = {} satisfies Readonly<Record<string, Words>>;
