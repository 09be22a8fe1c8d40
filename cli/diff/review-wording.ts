import { textBook } from "../../core/exchange/text-book.ts";
import type { ReviewWording } from "../../core/exchange/review-wording.ts";
import { shownName } from "../../host/git/byte-name.ts";
import { pathFrom } from "../check/repository-names.ts";
import type { AskedChange } from "./asked-change.ts";
import type { OpenChange } from "./change-sides.ts";

/** How a review of a change is worded: files from the folder that the command runs in, places by the texts of their sides. */
export function wordingOf(asked: AskedChange, change: OpenChange, notes: readonly string[]): ReviewWording {
  const books = {
    before: textBook(change.before.sources, change.before.memo),
    after: textBook(change.after.sources, change.after.memo),
  };
  return {
    nameOf: (file, side) =>
      shownName(pathFrom(process.cwd(), side === "before" ? change.placeBefore(file) : file)) || ".",
    rangeOf: ({ file, span }, side) => books[side].range(file, span),
    before: asked.before,
    after: asked.after,
    notes,
  };
}
