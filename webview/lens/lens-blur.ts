import { setAttributes, setText, svg } from "../element.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { pixelReading, pixelScale, type LensLayer } from "./lens-layer.ts";

/** Arrows are drawn so many times their length: the largest of the take then is no longer than a part of the picture. */
const FACTORS = [100, 50, 20, 10, 5, 2, 1] as const;
const LONGEST = 0.2;
/** Less blur than this has no arrow [captured px]. */
const LEAST = 0.05;
/** Legs of an arrow's head [CSS px]. */
const HEAD = 6;
const TURN = 0.45;

/**
 * How far the subject smears while the shutter is open, as an arrow from where it is in the direction in which it goes. While
 * nothing is aimed at each target in the picture has one.
 */
export function createLensBlur(): LensLayer {
  const object = svg("g", { class: "blur" });
  let open: OpenTake | undefined;
  let factor = 1;
  let arrows: { readonly group: SVGGElement; readonly line: SVGPathElement; readonly words: SVGTextElement }[] = [];
  let drawn: (readonly number[] | null)[] = [];
  return {
    object,
    load(next) {
      open = next;
      object.replaceChildren();
      factor = next ? factorOf(next) : 1;
      arrows = (next?.stage.targets ?? []).map(() => {
        const [line, words] = [svg("path", {}), svg("text", {})];
        const group = svg("g", { visibility: "hidden" }, line, words);
        object.append(group);
        return { group, line, words };
      });
      drawn = arrows.map(() => null);
    },
    draw(moment, width, height) {
      if (!open) return;
      const [sx, sy] = pixelScale(open.stage, width, height);
      const limit = open.stage.tolerance?.blur ?? Infinity;
      for (let k = 0; k < arrows.length; k++) {
        const { group, line, words } = arrows[k];
        const length = blurOf(moment, k);
        const shows = (moment.aimed < 0 || k === moment.aimed) && length >= LEAST && isSeen(moment, k);
        setAttributes(group, { visibility: shows ? undefined : "hidden" });
        drawn[k] = null;
        if (!shows) continue;
        const [x, y] = [moment.framing[2 * k] * width, moment.framing[2 * k + 1] * height];
        const [dx, dy] = [moment.blur[2 * k] * sx * factor, moment.blur[2 * k + 1] * sy * factor];
        drawn[k] = [x, y, x + dx, y + dy];
        setAttributes(group, { class: length > limit ? "over" : undefined });
        setAttributes(line, { d: `M${x} ${y}l${dx} ${dy}${headOf(dx, dy)}` });
        const left = dx < 0;
        setAttributes(words, { x: x + dx + (left ? -4 : 4), y: y + dy + (dy < 0 ? -4 : 13), "text-anchor": left ? "end" : "start" }); // prettier-ignore
        setText(words, wordsOf(length, limit, factor));
      }
    },
    drawn: () => ({ blur: drawn, blurFactor: factor }),
  };
}

/** [captured px] NaN where it is not known. */
export const blurOf = ({ blur }: Moment, k: number): number => Math.hypot(blur[2 * k], blur[2 * k + 1]);

function wordsOf(length: number, limit: number, factor: number): string {
  const over = length > limit ? ` of ${pixelReading(limit)}` : "";
  return `${pixelReading(length)}${over}${factor === 1 ? "" : `, drawn × ${factor}`}`;
}

function isSeen({ framing }: Moment, k: number): boolean {
  const [across, down] = [framing[2 * k], framing[2 * k + 1]];
  return 0 <= across && across <= 1 && 0 <= down && down <= 1;
}

/** The largest factor that keeps every arrow of the take short enough; those of what is aimed at, where anything is. */
function factorOf({ take, stage }: OpenTake): number {
  const [w, h] = stage.optics.resolution;
  const targets = stage.targets.length;
  const { blur } = take;
  let most = 0;
  for (let i = 0; blur && i < take.count; i++) {
    const aim = stage.aims.find(({ from, to }) => from <= take.t[i] && take.t[i] <= to);
    for (let k = 0; k < targets; k++) {
      if (aim ? aim.target !== k : stage.aims.length > 0) continue;
      const at = 2 * (i * targets + k);
      const share = Math.max(Math.abs(blur[at]) / w, Math.abs(blur[at + 1]) / h);
      if (share > most) most = share;
    }
  }
  return FACTORS.find((factor) => most * factor <= LONGEST) ?? 1;
}

/** Both legs of the head, from the arrow's end and back to it. */
function headOf(dx: number, dy: number): string {
  const along = Math.atan2(dy, dx);
  return [TURN, -TURN]
    .map((turn) => {
      const [x, y] = [-HEAD * Math.cos(along + turn), -HEAD * Math.sin(along + turn)];
      return `l${x} ${y}m${-x} ${-y}`;
    })
    .join("");
}
