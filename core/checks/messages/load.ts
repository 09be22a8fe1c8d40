import type { Words } from "./words.ts";

/** What the rig carries and stands on. */
export const LOAD_WORDS = {} satisfies Readonly<Record<string, Words>>;
