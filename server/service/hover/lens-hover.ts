import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import { depthOfField } from "../../../core/lens/depth-of-field.ts";
import type { ResolvedOptics } from "../../../core/lens/resolved-optics.ts";
import { closeFocusWords, focalWords, viewWords } from "../lens-words.ts";
import { code, paragraphs, plain, table } from "../markdown.ts";
import type { Solved } from "../view.ts";
import { moreRows, MOST_ROWS, STALE } from "./around.ts";

/** What a lens sees and how near it focuses. */
export function lensText(optics: ResolvedOptics): string {
  const iris = `f/${trimmed(optics.iris, 1)} at its widest`;
  return `${code(optics.lensName)} on ${plain(optics.cameraName)}: ${focalWords(optics)}, ${viewWords(optics)}, ${closeFocusWords(optics)}, ${iris}.`;
}

/** The lens of a move, with the depth of field at each key that focuses. */
export function lensInMove({ move, trajectory, stale }: Solved): string {
  const { optics, keys } = move;
  const instant = trajectory.createInstant();
  const rows = keys.flatMap(({ label, time }) => {
    trajectory.poseAt(time, instant);
    const { focus, focal, iris, pupil } = instant;
    if (!(focus > 0)) return [];
    // Focus counts from the sensor plane, the depth of field from the entrance pupil; shown as the tape measures it.
    const behind = optics.flange + pupil;
    const { near, far } = depthOfField(focal, iris, optics.coc, focus - behind);
    const shown = (distance: number): string =>
      distance === Infinity
        ? "infinity"
        : Number.isNaN(distance)
          ? "none"
          : formatQuantity(distance + behind, "length");
    return [[plain(label), formatQuantity(focus, "length"), `f/${trimmed(iris, 1)}`, shown(near), shown(far)]];
  });
  const depths =
    rows.length === 0
      ? "No key focuses."
      : table(["sharp at key, from the sensor plane", "focus", "iris", "from", "to"], rows.slice(0, MOST_ROWS));
  return paragraphs([lensText(optics), stale ? STALE : undefined, depths, moreRows(rows.length, "keys")]);
}
