import * as z from "zod/mini";

const count = z.int().check(z.nonnegative());
const place = z.tuple([z.number(), z.number(), z.number()]);
const key = count;

/** A message of the stage that shapes the move. Numbers are finite: JSON knows no others. */
export const shapeMessage = z.object({
  type: z.literal("shape"),
  turn: count,
  version: z.int(),
  phase: z.enum(["preview", "commit"]),
  intent: z.discriminatedUnion("kind", [
    z.object({ kind: z.literal("time"), key, time: z.number() }),
    z.object({ kind: z.literal("camera"), key, at: place }),
    z.object({ kind: z.literal("target"), key, target: count, at: place }),
    z.object({ kind: z.literal("framing"), key, at: z.tuple([z.number(), z.number()]) }),
    z.object({ kind: z.literal("axis"), key, axis: count, by: z.number() }),
    z.object({ kind: z.literal("zoom"), key, focal: z.number() }),
  ]),
});
