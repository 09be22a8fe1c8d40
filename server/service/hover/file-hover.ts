import { capital } from "../../../core/base/capital.ts";
import { baseName } from "../../../core/base/path.ts";
import type { FileId } from "../../../core/base/span.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import { worstShare } from "../../../core/motion/peaks.ts";
import { countWords } from "../finding-counts.ts";
import { code, paragraphs, plain } from "../markdown.ts";
import { LIMIT_WORDS, percent } from "../peak-words.ts";
import type { View } from "../view.ts";
import type { Around } from "./around.ts";

/** Names that are listed at most. */
const MOST_NAMES = 12;

/** A document that is named: what it is called and defines; of a move how long it is, how near to a limit, and its findings. */
export function fileHover(view: View, file: FileId, { moveOf }: Around): string | undefined {
  const named = view.names(file);
  if (!named) return undefined;
  const title = named.title ? `${plain(named.title.text)} (${plain(baseName(file))})` : plain(baseName(file));
  const defined = [...new Set(named.names.filter(({ role }) => role === "definition").map(({ name }) => name))];
  const names = defined.slice(0, MOST_NAMES).map(code).join(", ");
  const more = defined.length > MOST_NAMES ? ` and ${defined.length - MOST_NAMES} more` : "";
  return paragraphs([
    `**${title}**`,
    defined.length === 0 ? undefined : `Defines ${names}${more}.`,
    moveText(moveOf(file)),
  ]);
}

function moveText({ solved, findings }: ReturnType<Around["moveOf"]>): string | undefined {
  const found = findings && (countWords(findings) || "no findings");
  if (!solved) return found && `${capital(found)}.`;
  const { move, trajectory } = solved;
  const worst = worstShare(trajectory, 0, trajectory.duration);
  const near = worst
    ? `, at most ${percent(worst.share)} of a limit (the ${LIMIT_WORDS[worst.order]} of ${code(trajectory.axes[worst.axis].name)})`
    : "";
  const keys = move.keys.length === 1 ? "1 key" : `${move.keys.length} keys`;
  return `${formatQuantity(trajectory.duration, "time")}, ${keys}${near}${found === undefined ? "" : `, ${found}`}.`;
}
