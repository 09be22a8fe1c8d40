import * as z from "zod/mini";

const TEXT_CAP = 16_384;
const NUMBERS_CAP = 4096;

const text = z.string().check(z.maxLength(TEXT_CAP));
const numbers = z.array(z.number()).check(z.maxLength(NUMBERS_CAP));

/** The comparison in a report of the stage, checked. */
export const ghostState = z.object({
  label: text,
  alignment: z.enum(["time", "share"]),
  time: z.number(),
  pupil: z.number(),
  links: numbers,
  keys: numbers,
  marks: z.array(z.object({ name: text, from: z.tuple([z.number(), z.number()]), hasArrow: z.boolean() })).check(z.maxLength(NUMBERS_CAP)),
  words: text,
}); // prettier-ignore
