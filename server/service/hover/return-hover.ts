import type { Task } from "../../../core/base/task.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import { worstShare } from "../../../core/motion/peaks.ts";
import { wayBack } from "../../../core/motion/way-back.ts";
import { placeOf } from "../key-place.ts";
import { code, paragraphs, plain } from "../markdown.ts";
import { LIMIT_WORDS, percent } from "../peak-words.ts";
import type { Solved, View } from "../view.ts";
import { STALE } from "./around.ts";

/** How the rig comes back to the first key: how long that takes, how near to a limit, and what is found about it. */
export function* returnHover({ file }: View, solved: Solved): Task<string | undefined> {
  const { trajectory, move, findings, stale } = solved;
  const asked = move.wayBack;
  if (asked?.kind === "none") return "The rig does not come back by its own motors: nothing of the way is checked.";
  const way = yield* wayBack(trajectory);
  if (!way) return "The move ends as it begins: no way back is needed.";
  const kind = asked?.kind === "direct" ? "Directly" : `As it came, at ${percent(asked?.share ?? 0.5)} of the speed`;
  const worst = worstShare(way, 0, way.duration);
  const near = worst
    ? ` At most ${percent(worst.share)} of a limit, the ${LIMIT_WORDS[worst.order]} of ${code(way.axes[worst.axis].name)}.`
    : "";
  const span = asked && placeOf(solved, file, asked.origin);
  const said = findings.filter(
    ({ place }) => span && place.file === file && span.start <= place.span.start && place.span.end <= span.end,
  );
  return paragraphs([
    `${kind}: the way back takes ${formatQuantity(way.duration, "time")}.${near}`,
    stale ? STALE : undefined,
    said.length === 0 ? undefined : said.map(({ message }) => `- ${plain(message)}`).join("\n"),
  ]);
}
