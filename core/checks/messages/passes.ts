import type { Words } from "./words.ts";

/** How well passes repeat. */
export const PASS_WORDS = {} satisfies Readonly<Record<string, Words>>;
