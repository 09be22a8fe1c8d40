import type { FindingCode } from "../base/finding-code.ts";
import { nearestFrame } from "../base/rate.ts";
import { formatTimecode } from "../base/timecode.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { seconds } from "./figures.ts";
import type { Finding } from "./finding.ts";
import { AXIS_WORDS } from "./messages/axes.ts";
import { EXPECT_WORDS } from "./messages/expect.ts";
import { FOCUS_WORDS } from "./messages/focus.ts";
import { IMAGE_WORDS } from "./messages/image.ts";
import { LOAD_WORDS } from "./messages/load.ts";
import { PASS_WORDS } from "./messages/passes.ts";
import { PATH_WORDS } from "./messages/path.ts";
import { PEOPLE_WORDS } from "./messages/people.ts";
import { PICTURE_WORDS } from "./messages/picture.ts";
import { cutMessage, SHOOT_WORDS } from "./messages/shoot.ts";
import { SPACE_WORDS } from "./messages/space.ts";
import { text, type Words } from "./messages/words.ts";

/** What of a move a message needs: how its times are called. */
export type TimeNames = Pick<ResolvedMove, "rate" | "startFrame">;

/**
 * The message of a finding: where, the value, what is allowed, the cure. Every message of a finding of the motion is
 * written here and nowhere else.
 */
export function renderMessage(finding: Finding, names: TimeNames): string {
  const render = MESSAGES[finding.code];
  const often = finding.facts.spans === undefined ? "" : `, the worst of ${finding.facts.spans} times`;
  const at = finding.peak === undefined ? backName(finding) : ` at ${timeName(finding.peak, names)}`;
  const pass = text(finding, "inPass");
  const inPass = pass === "" ? "" : ` in pass ${pass}`;
  const said = render ? render(finding, at + often + inPass) : `${finding.code}${at}${often}${inPass}`;
  // Some findings are of no instant and say nothing of when.
  return inPass === "" || said.includes(inPass) ? `${said}.` : `In pass ${pass}: ${said}.`;
}

/** ` on the way back, 2.4 s after it begins,` for a finding of the way back, which no frame of the take shows. */
function backName({ facts }: Finding): string {
  if (typeof facts.back !== "number") return "";
  return Number.isFinite(facts.back) ? ` on the way back, ${seconds(facts.back)} after it begins` : " on the way back";
}

/** `00:00:02:10 (frame 58)`: the label and the count of the frame nearest to `t` [s]. */
export function timeName(t: number, { rate, startFrame }: TimeNames): string {
  const frame = nearestFrame(rate, t);
  return `${formatTimecode(startFrame + frame, rate)} (frame ${frame})`;
}

/** Line of text that a related place is introduced by. */
export function renderNote(note: Finding["related"][number]["note"], finding: Finding): string {
  switch (note) {
    case "limit":
      return finding.axis === undefined ? "the limit is stated here" : `the limit of ${finding.axis} is stated here`;
    case "from-key":
      return `from here: ${text(finding, "fromKey") || "the key before"}`;
    case "to-key":
      return `to here: ${finding.key ?? "this key"}`;
    case "target":
      return `${text(finding, "target") || "the target"} stands here`;
    case "tolerance":
      return "the tolerance is stated here";
    case "repeat":
      return `how well ${finding.axis ?? "the axis"} repeats is stated here`;
    case "pass":
      return `the pass ${text(finding, "inPass")} is stated here`;
    case "mass":
      return "this weight counts";
    case "part":
      return `${text(finding, "part")} is described here`;
    case "see":
      return finding.axis === undefined ? "see here" : `${finding.axis} is described here`;
  }
}

const MESSAGES: Readonly<Partial<Record<FindingCode, Words>>> = {
  ...AXIS_WORDS,
  ...PATH_WORDS,
  ...PICTURE_WORDS,
  ...FOCUS_WORDS,
  ...IMAGE_WORDS,
  ...SPACE_WORDS,
  ...PEOPLE_WORDS,
  ...LOAD_WORDS,
  ...PASS_WORDS,
  ...SHOOT_WORDS,
  // One code for passes and for cuts: both are pictures that must match. A cut says what it is `about`.
  match: (f, at) => (f.facts.about === undefined ? PASS_WORDS.match(f, at) : cutMessage(f)),
  ...EXPECT_WORDS,
  allow: (f) => text(f, "message"),
  "internal-error": (f) =>
    `${text(f, "part")} failed inside the program (${text(f, "cause")}); the other findings stand, but something may have gone unchecked`,
};
