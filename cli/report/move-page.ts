import { LIMIT_WORDS } from "../../core/base/limits.ts";
import { formatRate } from "../../core/base/rate.ts";
import { runToEnd } from "../../core/base/task.ts";
import { percent, seconds } from "../../core/checks/figures.ts";
import type { FileId } from "../../core/base/span.ts";
import { drawPicture } from "../../core/draw/picture.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import { findingList } from "./finding-list.ts";
import { keyTables } from "./key-tables.ts";
import { moveGraphs } from "./move-graphs.ts";
import { CAUTION, reportPage, words } from "./page-shell.ts";

/** Pictures through the lens at most: the first keys, the last, and those with findings before others. */
const MOST_PICTURES = 12;

export interface MovePageParts {
  /** Name of its pages. */
  readonly name: string;
  /** The document, as people know it. */
  readonly path: string;
  readonly checked: CheckedDocument;
  readonly nameOf: (file: FileId) => string;
  readonly trajectory?: Trajectory;
  /** The same move at the base, where it can be solved there. */
  readonly before?: Trajectory;
  /** What changed, as HTML; absent without a base. */
  readonly change?: string;
}

/** A page and the files that it shows, by their ways from the report's folder. */
export interface MadeMovePage {
  readonly page: string;
  readonly pictures: readonly { readonly path: string; readonly svg: string }[];
}

/** The page of one move. One that can't be solved has its findings, and says so. */
export function movePage(parts: MovePageParts): MadeMovePage {
  const { name, path, checked, nameOf, trajectory, change } = parts;
  const title = trajectory?.move.title ?? path;
  const shown = trajectory ? picturesOf(parts, trajectory) : [];
  const findings = `<h2>Findings</h2>\n${findingList(checked.findings, nameOf)}`;
  const body = [
    `<nav aria-label="Report"><a href="../index.html">All moves</a></nav>`,
    `<p class="caution">${words(CAUTION)}</p>`,
    ...(trajectory
      ? [facts(path, trajectory, checked)]
      : [`<p>File: <code>${words(path)}</code></p>`, `<p class="review-error">This move can’t be solved, so that there are no pictures and no figures of it; what has to be mended first is under Findings.</p>`]), // prettier-ignore
    `<p><a href="../stages/${name}.html">The stage of this move</a>${parts.before ? ", with the move of before as a ghost" : ""}</p>`, // prettier-ignore
    ...(change === undefined ? [] : [`<h2>What changed</h2>\n${change}`]),
    findings,
    ...(trajectory ? solvedParts(parts, trajectory, shown) : []),
  ];
  return {
    page: reportPage(title, body.join("\n")),
    pictures: shown.map(({ path: at, svg }) => ({ path: at, svg })),
  };
}

function facts(path: string, { move, duration }: Trajectory, { move: checked }: CheckedDocument): string {
  const { rig, optics, rate, keys, passes } = move;
  const worst = checked?.worst;
  const rows: [string, string][] = [
    ["File", path],
    ["Rig", rig.name],
    ["Camera and lens", `${optics.cameraName}, ${optics.lensName}`],
    ["Rate", `${formatRate(rate)} frames/s`],
    ["Duration", `${seconds(duration)}, ${keys.length} key${keys.length === 1 ? "" : "s"}`],
    ...(passes.length > 0 ? [["Passes", passes.map((one) => `${one.name} (${one.times})`).join(", ")] as [string, string]] : []), // prettier-ignore
    ...(worst ? [["Nearest to a limit", worstWords(worst)] as [string, string]] : []),
  ];
  return `<dl class="facts">\n${rows.map(([name, value]) => `<dt>${name}</dt><dd>${words(value)}</dd>`).join("\n")}\n</dl>`;
}

/** `pan, 82 % of its speed at 3.1 s`. */
export function worstWords(worst: NonNullable<NonNullable<CheckedDocument["move"]>["worst"]>): string {
  const share = worst.share === undefined ? "unbounded" : percent(worst.share);
  return `${worst.axis}, ${share} of its ${LIMIT_WORDS[worst.of]} at ${seconds(worst.at)}`;
}

interface Shown {
  readonly path: string;
  readonly svg: string;
  readonly caption: string;
}

function picturesOf({ name, checked }: MovePageParts, trajectory: Trajectory): Shown[] {
  const { keys } = trajectory.move;
  const draw = (view: "top" | "side" | "lens", t: number): string => runToEnd(drawPicture(trajectory, view, t));
  const path = (file: string): string => `pictures/${name}/${file}.svg`;
  const found = new Set(checked.findings.map(({ key }) => key));
  const weight = (i: number): number => (found.has(keys[i].label) ? 2 : 0) + (i === 0 || i === keys.length - 1 ? 1 : 0);
  const order = keys.map((_, i) => i).sort((a, b) => weight(b) - weight(a) || a - b);
  const chosen = order.slice(0, MOST_PICTURES).sort((a, b) => a - b);
  return [
    { path: path("top"), svg: draw("top", 0), caption: "From above, at the start, with the way of the camera" },
    { path: path("side"), svg: draw("side", 0), caption: "From the side, at the start" },
    ...chosen.map((i) => ({
      path: path(`key-${i + 1}`),
      svg: draw("lens", keys[i].time),
      caption: `Through the lens at ${keys[i].label}, ${seconds(keys[i].time)}`,
    })),
  ];
}

function solvedParts({ before }: MovePageParts, trajectory: Trajectory, shown: readonly Shown[]): string[] {
  const { keys } = trajectory.move;
  const figures = shown.map(
    ({ path, caption }) =>
      `<figure><img src="../${path}" alt="${words(caption)}" loading="lazy"><figcaption>${words(caption)}</figcaption></figure>`,
  );
  const left = keys.length - (shown.length - 2);
  const note = left > 0 ? [`<p class="review-note">${left} of ${keys.length} keys have no picture here: those with findings come first.</p>`] : []; // prettier-ignore
  return [
    `<h2>Pictures</h2>\n<div class="pictures">\n${figures.join("\n")}\n</div>`,
    ...note,
    `<h2>Over time</h2>\n<p class="review-note">Numbers above a graph are keys${before ? "; the move of before is dashed" : ""}. What is not to be passed has long dashes.</p>`,
    ...moveGraphs(trajectory, before),
    `<h2>Keys</h2>\n${keyTables(trajectory)}`,
  ];
}
