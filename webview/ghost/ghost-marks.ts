import type { GhostMark } from "../../protocol/stage-ghost.ts";
import { setAttributes, setText, svg } from "../element.ts";
import type { Moment } from "../take/moment.ts";
import type { GhostPlay } from "./ghost-play.ts";
import { pixelWords } from "./ghost-words.ts";

/** Half a side of the sign where the ghost has a target, and the length of an arrow's head [px]. */
const REACH = 5;
const HEAD = 7;
/** An arrow shorter than this would hide under its own head [px]. */
const SHORTEST = 3;

/** In the view through the lens: where the ghost has each target, and an arrow from there to where it is now. */
export interface GhostMarks {
  readonly object: SVGSVGElement;
  load(play: GhostPlay | undefined): void;
  /** @param width, height CSS px of the lens picture. */
  draw(moment: Moment, width: number, height: number): void;
  /** What is drawn, px from the picture's top left: read back from it. */
  drawn(): readonly GhostMark[];
}

export function createGhostMarks(): GhostMarks {
  const object = svg("svg", { class: "ghost-marks", "aria-hidden": "true" });
  let play: GhostPlay | undefined;
  let marks: { group: SVGGElement; sign: SVGPathElement; arrow: SVGPathElement; words: SVGTextElement }[] = [];
  return {
    object,
    load(next) {
      play = next;
      object.replaceChildren();
      marks = (next?.targets ?? []).map(() => {
        const sign = svg("path", { class: "ghost-sign", d: `M${-REACH} ${-REACH}H${REACH}V${REACH}H${-REACH}Z` });
        const [arrow, words] = [svg("path", { class: "ghost-arrow" }), svg("text", {})];
        const group = svg("g", { visibility: "hidden" }, sign, arrow, words);
        object.append(group);
        return { group, sign, arrow, words };
      });
    },
    draw(moment, width, height) {
      if (!play) return;
      setAttributes(object, { viewBox: `0 0 ${width} ${height}`, width, height });
      const { resolution } = play.open.stage.optics;
      play.targets.forEach(({ here }, k) => {
        const { group, sign, arrow, words } = marks[k];
        // Px of the delivered picture are those of the captured one; so many of them are as wide as the view.
        const [dx, dy] = [(play!.shifts[4 * k + 2] * width) / resolution[0], (play!.shifts[4 * k + 3] * height) / resolution[1]]; // prettier-ignore
        const [x, y] = [moment.framing[2 * here] * width, moment.framing[2 * here + 1] * height];
        const shows = [x, y, dx, dy].every((part) => Math.abs(part) < 1e5);
        setAttributes(group, {
          visibility: shows ? undefined : "hidden",
          class: here === moment.aimed ? "aimed" : undefined,
        });
        if (!shows) return;
        const length = Math.hypot(dx, dy);
        setAttributes(sign, { transform: `translate(${x - dx} ${y - dy})` });
        setAttributes(arrow, { d: length < SHORTEST ? "" : arrowTo(x - dx, y - dy, dx / length, dy / length, length) });
        const px = Math.hypot(play!.shifts[4 * k + 2], play!.shifts[4 * k + 3]);
        // Only what is aimed at is read here; the others are in the list.
        setText(words, here === moment.aimed ? pixelWords(px) : "");
        setAttributes(words, { x: x - dx + 9, y: y - dy + (dy < 0 ? 16 : -9) });
      });
    },
    drawn: () =>
      marks.flatMap(({ group, sign, arrow }, k): GhostMark[] => {
        const at = sign.transform.baseVal.consolidate()?.matrix;
        if (!play || !at || group.getAttribute("visibility") === "hidden") return [];
        const length = arrow.getTotalLength();
        return [{ name: play.targets[k].name, from: [at.e, at.f], hasArrow: length > 0 }];
      }),
  };
}

/** A line with a head at its end; (u, v) is its direction. */
function arrowTo(x: number, y: number, u: number, v: number, length: number): string {
  const [endX, endY] = [x + u * length, y + v * length];
  const head = Math.min(HEAD, length);
  const wing = (side: number): string => `L${endX - head * (u - side * v * 0.5)} ${endY - head * (v + side * u * 0.5)}`;
  return `M${x} ${y}L${endX} ${endY}${wing(1)}M${endX} ${endY}${wing(-1)}`;
}
