import * as z from "zod/mini";
import type { ReviewParams } from "./review.ts";

const TEXT_CAP = 4096;
/** Most files that may be changed; more is no work of people. */
const FILES_CAP = 100_000;

const text = z.string().check(z.maxLength(TEXT_CAP));

const reviewParams = z.object({
  base: z.object({ of: text, revision: text.check(z.minLength(1)), label: text }),
  changed: z.array(z.object({ uri: text, was: z.optional(text) })).check(z.maxLength(FILES_CAP)),
  marks: z.boolean(),
});

/** Reads the question of any client; throws, with what is wrong in it, where it is none. */
export function readReviewParams(raw: unknown): ReviewParams {
  const result = z.safeParse(reviewParams, raw);
  if (result.success) return result.data;
  throw new Error(`The question for a review is none: ${z.prettifyError(result.error)}`);
}
