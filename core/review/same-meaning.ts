import type { ResolvedMove } from "../motion/resolved-move.ts";
import { inputDifference } from "./motion/input-difference.ts";

/** Fields of what is resolved that change nothing: where it stands in a text, and what people call it. */
const NO_MEANING = /^(?:.*[oO]rigins?|name|title|label|cameraName|lensName|uses|written)$/;

/**
 * Whether all that is computed of two moves comes out the same but for rounding: motion, limits, bodies, tolerances. Names
 * of axes and targets may be others.
 */
export const isSameMeaning = (before: ResolvedMove, after: ResolvedMove): boolean =>
  inputDifference(before, after, (name) => NO_MEANING.test(name)) === "same";
