import type { Words } from "./words.ts";

/** Focus between what is near and what is far. */
export const FOCUS_WORDS = {} satisfies Readonly<Record<string, Words>>;
