import { relative, sep } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import { textBook } from "../../core/exchange/text-book.ts";
import type { ReviewWording } from "../../core/exchange/review-wording.ts";
import { pathOfFile } from "../../host/file-path.ts";
import { shownName } from "../../host/git/byte-name.ts";
import type { AskedChange } from "./asked-change.ts";
import type { OpenChange } from "./change-sides.ts";

/** How a review of a change is worded: files from the folder that the command runs in, places by the texts of their sides. */
export function wordingOf(asked: AskedChange, change: OpenChange, notes: readonly string[]): ReviewWording {
  const books = {
    before: textBook(change.before.sources, change.before.memo),
    after: textBook(change.after.sources, change.after.memo),
  };
  return {
    nameOf: (file, side) => nameFromHere(side === "before" ? change.placeBefore(file) : file),
    rangeOf: ({ file, span }, side) => books[side].range(file, span),
    before: asked.before,
    after: asked.after,
    notes,
  };
}

/** Its path from the folder that the command runs in, on one line and of no other file. */
const nameFromHere = (file: FileId): string =>
  shownName(relative(process.cwd(), pathOfFile(file)).split(sep).join("/")) || ".";
