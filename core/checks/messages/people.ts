import type { Words } from "./words.ts";

/** People near the rig. */
export const PEOPLE_WORDS = {} satisfies Readonly<Record<string, Words>>;
