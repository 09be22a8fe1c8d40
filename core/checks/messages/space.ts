import type { Words } from "./words.ts";

/** What the rig and the camera come near to. */
export const SPACE_WORDS = {} satisfies Readonly<Record<string, Words>>;
