import type { Vec3 } from "../base/vec3.ts";
import { xmlText } from "../base/xml-text.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { brief } from "./snapshot-number.ts";
import { byUnits, type Samples } from "./snapshot-samples.ts";
import { drawShares } from "./snapshot-shares.ts";
import { INK, SHARE_LINES, shareStroke } from "./snapshot-style.ts";
import type { ShownTarget } from "./snapshot-marks.ts";
import { drawWays } from "./snapshot-ways.ts";

/** Counts up when the same move gives other bytes: snapshots of an older form are stale. */
export const SNAPSHOT_FORM = 1;

const WIDTH = 960;
const SIDE = 24;
/** The two panels: 7 by 6 squares each. */
const PANELS = [
  { left: 60, right: 452, top: 92, bottom: 428 },
  { left: 544, right: 936, top: 92, bottom: 428 },
] as const;
const LANES = { left: 190, right: WIDTH - SIDE, top: 492 };

const CARE = "It does not say that the move is safe.";

/** How a file of a snapshot begins to say so, an SVG as well as a table. */
export const SNAPSHOT_MARK = "A snapshot made by Movewright, form ";

/** The form of a snapshot by the beginning of its file; `undefined` for a file that is none. */
export function snapshotForm(start: string): number | undefined {
  const found = /^(?:\ufeff)?(?:<\?xml [^>]*>\s*)?<!-- A snapshot made by Movewright, form (\d+)\b/.exec(
    start.slice(0, 400),
  );
  return found ? Number(found[1]) : undefined;
}

/** Letters of the title that there is room for. */
const LETTERS = 80;

/**
 * A move as one picture that is the same to the byte wherever it is made, for looking at changes of it: the way of the
 * entrance pupil from above and from the side, and over time how much of its limits each axis takes.
 */
export function drawSnapshot(trajectory: Trajectory, samples: Samples): string {
  const { move, duration } = trajectory;
  const letters = [...move.title];
  const title = letters.length > LETTERS ? `${letters.slice(0, LETTERS - 1).join("")}…` : move.title;
  const facts = `${move.keys.length} key${move.keys.length === 1 ? "" : "s"}, ${brief(duration, 3)} s`;
  const ways = drawWays(samples, shownTargets(trajectory), PANELS);
  const lanes = drawShares(samples, duration, LANES.left, LANES.right, LANES.top);
  const height = lanes.bottom + 44;
  return `<?xml version="1.0" encoding="UTF-8"?>
<!-- ${SNAPSHOT_MARK}${SNAPSHOT_FORM}. -->
<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-labelledby="title description" font-family="sans-serif" font-size="12">
<title id="title">${xmlText(move.title)}</title>
<desc id="description">${xmlText(`The way of the entrance pupil from above and from the side, and the shares of limits that axes take over time. ${facts}. ${CARE}`)}</desc>
<rect width="${WIDTH}" height="${height}" fill="${INK.paper}"/>
<text x="${SIDE}" y="32" font-size="18" font-weight="600" fill="${INK.text}">${xmlText(title)}</text>
<text x="${SIDE}" y="52" fill="${INK.quiet}">${facts}. Numbers are keys, a line from a key says where the camera looks.</text>
${ways}
<text x="${SIDE}" y="${LANES.top - 22}" font-weight="600" fill="${INK.text}">Shares of limits over time</text>
${lanes.svg}
${legend(lanes.bottom + 10)}
<text x="${SIDE}" y="${height - 12}" font-size="11" fill="${INK.quiet}">${CARE}</text>
</svg>
`;
}

/** Targets that a key aims at or focuses on, where they are at the start. */
function shownTargets(trajectory: Trajectory): readonly ShownTarget[] {
  const shown = new Set<number>();
  for (const { aim, focus } of trajectory.move.keys) {
    if (aim?.kind === "target") shown.add(aim.target);
    if (focus?.kind === "target") shown.add(focus.target);
  }
  const instant = trajectory.createInstant();
  trajectory.at(0, instant, "right");
  return [...shown]
    .map((i) => ({
      name: trajectory.move.targets[i].name,
      at: [0, 1, 2].map((k) => instant.targets[3 * i + k]) as unknown as Vec3,
    }))
    .sort((one, other) => byUnits(one.name, other.name));
}

/** Room of an entry of the legend [px]. */
const ENTRY = 150;

function legend(y: number): string {
  const entries = [
    ...SHARE_LINES.map((line) => ({ sign: `<path ${shareStroke(line)} d="M0 0h34"/>`, words: line.name as string })),
    { sign: `<path fill="none" stroke="${INK.limit}" stroke-dasharray="10 4" d="M0 0h34"/>`, words: "the limit" },
    {
      sign: `<path fill="${INK.paper}" stroke="${INK.text}" stroke-width="1.2" d="M12 0l5 -5 5 5 -5 5z"/>`,
      words: "highest share",
    },
  ];
  return entries
    .map(({ sign, words }, i) => {
      const x = LANES.left + i * ENTRY;
      return `<g transform="translate(${x} ${y})">${sign}<text x="42" y="4" fill="${INK.text}">${words}</text></g>`;
    })
    .join("\n");
}
