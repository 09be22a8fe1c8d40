import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import type { Moment } from "./moment.ts";
import { namesOf } from "./name-proposals.ts";
import { USELESS, type Asked, type Proposal } from "./proposal.ts";

/** Targets with how far they are from the entrance pupil at the key, and where in the picture. */
export function targetProposals(asked: Asked): readonly Proposal[] {
  const { moment } = asked;
  return namesOf("target", asked.around).map((proposal): Proposal => {
    const idx = moment?.solved.move.targets.findIndex(({ name }) => name === proposal.label) ?? -1;
    if (!moment || idx < 0) return proposal;
    const { instant, when } = moment;
    const away = `${formatQuantity(instant.distance[idx], "length")} from the pupil ${when}`;
    const useless = asked.cursor.path.includes("focus") ? outOfFocus(moment, idx) : undefined;
    return { ...proposal, detail: `${away}, ${useless ?? pictureWords(moment, idx)}`, rank: useless ? USELESS : 0 };
  });
}

/** Why a target can't be focused on, if so. */
function outOfFocus({ solved, instant }: Moment, idx: number): string | undefined {
  const { optics } = solved.move;
  if (Number.isNaN(instant.framing[2 * idx])) return "behind the camera";
  // The sensor plane is at least as far from the target as the pupil is, by all that lies between the two.
  const most = instant.distance[idx] + instant.pupil + optics.flange;
  return most < optics.closeFocus
    ? `nearer than the lens focuses (${formatQuantity(optics.closeFocus, "length")})`
    : undefined;
}

function pictureWords({ instant }: Moment, idx: number): string {
  const [across, down] = [instant.framing[2 * idx], instant.framing[2 * idx + 1]];
  if (Number.isNaN(across)) return "behind the camera";
  const isSeen = 0 <= across && across <= 1 && 0 <= down && down <= 1;
  return isSeen ? `in the picture at ${trimmed(across, 2)}, ${trimmed(down, 2)}` : "outside the picture";
}
