import * as z from "zod/mini";
import { saveMessages } from "./save-message.ts";
import { ghostState } from "./ghost-shape.ts";
import { COMPARE_WISHES } from "./stage-ghost.ts";
import { SERIES } from "./stage-series.ts";
import { shapeMessage } from "./shape-wish.ts";
import type { FromStage } from "./stage.ts";

/** Longest text a message of the stage may carry; more is not ours. */
const TEXT_CAP = 4096;
const LINKS_CAP = 4096;

const text = z.string().check(z.maxLength(TEXT_CAP));
const count = z.int().check(z.nonnegative());
const id = z.int();

const state = z.object({
  uri: z.optional(text),
  version: z.int(),
  time: z.number(),
  playing: z.boolean(),
  frame: z.int(),
  timecode: text,
  webgl: z.boolean(),
  message: text,
  pictures: count,
  keys: count,
  findings: count,
  links: z.array(z.number()).check(z.maxLength(LINKS_CAP)),
  ghost: z.optional(ghostState),
});

const fromStage = z.discriminatedUnion("type", [
  z.object({ type: z.literal("ready"), uri: z.optional(text) }),
  z.object({ type: z.literal("mesh"), mesh: z.object({ file: text, part: z.optional(text) }) }),
  z.object({ type: z.literal("series"), name: z.enum(SERIES), version: z.int() }),
  z.object({
    type: z.literal("reach"),
    wish: z.discriminatedUnion("kind", [
      z.object({ kind: z.literal("section"), height: z.number() }),
      z.object({ kind: z.literal("shell") }),
    ]),
  }),
  z.object({ type: z.literal("passes") }),
  shapeMessage,
  z.object({ type: z.literal("compare"), wish: z.enum(COMPARE_WISHES) }),
  ...saveMessages,
  z.object({ type: z.literal("reveal-key"), key: count }),
  z.object({ type: z.literal("reveal-finding"), id: count }),
  z.object({ type: z.literal("state"), id, state }),
  z.object({ type: z.literal("failed"), message: text }),
]);

/** A message of the webview, checked; `undefined` for anything else, which the extension then ignores. */
export function readFromStage(message: unknown): FromStage | undefined {
  const result = z.safeParse(fromStage, message);
  // zod writes an absent optional field as `string | undefined`, which is what the type says too.
  return result.success ? (result.data as FromStage) : undefined;
}
