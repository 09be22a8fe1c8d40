import * as z from "zod/mini";
import { PART_SIZE, SAVE_CAP, SAVE_KINDS } from "./stage-save.ts";

const id = z.int().check(z.nonnegative());
/** No folder, no sign that a file system takes for one, nothing that is hidden. */
const name = z.string().check(z.maxLength(120), z.regex(/^[^\\/:*?"<>|\p{Cc}.][^\\/:*?"<>|\p{Cc}]*\.(?:png|webm)$/u));

/** What a page may say of files that it made. */
export const saveMessages = [
  z.object({
    ...{ type: z.literal("save"), id, name, kind: z.enum(SAVE_KINDS) },
    size: z.int().check(z.positive(), z.maximum(SAVE_CAP)),
  }),
  z.object({
    ...{ type: z.literal("save-part"), id, index: id },
    data: z.string().check(z.maxLength(Math.ceil(PART_SIZE / 3) * 4)),
  }),
] as const;
