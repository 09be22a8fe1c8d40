import { frameAt } from "../base/rate.ts";
import { formatTimecode } from "../base/timecode.ts";
import { xmlText } from "../base/xml-text.ts";
import type { Rectangle } from "./eye.ts";
import { fitted, LABEL_SIZE, textWidth, type PlacedLabel } from "./labels.ts";
import { pictureStyle } from "./picture-style.ts";
import type { Shot } from "./shot.ts";
import { tag, way } from "./svg.ts";

/** Size of a page, and the room over and under what is drawn [px]. */
export const PAGE_WIDTH = 1280;
export const SIDE = 24;
export const HEAD = 66;
const FOOT = 56;

/** How a picture of ours begins to say so. */
const MARK = "<!-- A picture made by Movewright. -->";

/** True for a text that a picture of ours begins with. */
export const isPicture = (text: string): boolean => text.slice(0, 200).includes(MARK);

const CARE =
  "This picture does not say that the move is safe. Keep to the rig's manual, local rules and a competent operator with an emergency stop in reach.";

/** A sign of the legend: the marks that stand for something, 26 px wide about (0, 0), and what it is. */
export interface LegendEntry {
  readonly sign: string;
  readonly words: string;
}

export interface PicturePage {
  readonly shot: Shot;
  /** `Top view`, `Through prime-35`. */
  readonly name: string;
  /** What else is said of the instant, beside its time. */
  readonly facts: readonly string[];
  readonly area: Rectangle;
  /** What is cut at the area's edge, and what is drawn over it. */
  readonly inside: string;
  readonly over: string;
  readonly labels: readonly PlacedLabel[];
  readonly leftOut: number;
  readonly legend: readonly LegendEntry[];
}

/** The whole document: head, what is drawn, names over it, legend, and what it does not say. */
export function renderPicture(page: PicturePage): string {
  const { shot, name, area, labels } = page;
  const { move, instant } = shot;
  const height = area.bottom + FOOT;
  const frame = frameAt(move.rate, instant.t);
  const time = `${formatTimecode(move.startFrame + frame, move.rate)}, frame ${move.startFrame + frame}, ${instant.t.toFixed(3)} s`;
  const caption = [`${name} at ${time}`, ...page.facts].join("  ·  ");
  const room = PAGE_WIDTH - 2 * SIDE;
  const text = (x: number, y: number, style: string, words: string): string => tag("text", { x, y, class: style }, xmlText(words)); // prettier-ignore
  const names = labels.map((label) => {
    const leader = label.leader ? tag("path", { class: "line ring leader", d: way(label.leader) }) : "";
    return leader + text(label.x, label.y, label.style, label.text);
  });
  const cut = { x: area.left, y: area.top, width: area.right - area.left, height: area.bottom - area.top };
  return `<?xml version="1.0" encoding="UTF-8"?>
${MARK}
<svg xmlns="http://www.w3.org/2000/svg" width="${PAGE_WIDTH}" height="${height}" viewBox="0 0 ${PAGE_WIDTH} ${height}" role="img" aria-labelledby="title description">
<title id="title">${xmlText(move.title)}: ${xmlText(name)}</title>
<desc id="description">${xmlText(`${caption}. ${CARE}`)}</desc>
<style>${pictureStyle()}</style>
<clipPath id="area">${tag("rect", cut)}</clipPath>
${tag("rect", { class: "paper", width: PAGE_WIDTH, height })}
${text(SIDE, 28, "text title", fitted(move.title, 18, room))}
${text(SIDE, 50, "quiet", fitted(caption, LABEL_SIZE, room))}
<g clip-path="url(#area)">
${page.inside}
</g>
${page.over}
${names.join("\n")}
${legendLine(page, height - FOOT + 22)}
${text(SIDE, height - 12, "quiet", fitted(CARE, LABEL_SIZE, room))}
</svg>
`;
}

function legendLine({ legend, leftOut }: PicturePage, y: number): string {
  let x = SIDE;
  const entries = legend.map(({ sign, words }) => {
    const entry =
      tag("g", { transform: `translate(${x + 13} ${y - 4})` }, sign) +
      tag("text", { x: x + 32, y, class: "quiet" }, xmlText(words));
    x += 32 + Math.ceil(textWidth(words, LABEL_SIZE)) + 18;
    return entry;
  });
  if (leftOut > 0) {
    const words = `${leftOut} name${leftOut === 1 ? "" : "s"} left out for want of room`;
    entries.push(tag("text", { x, y, class: "quiet slant" }, words));
  }
  return entries.join("\n");
}
