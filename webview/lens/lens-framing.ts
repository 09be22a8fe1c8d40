import { setAttributes, svg } from "../element.ts";
import type { OpenTake } from "../take/open-take.ts";
import type { LensLayer } from "./lens-layer.ts";

/** Half an arm of the cross in the middle [CSS px]. */
const ARM = 10;
const THIRDS = [1 / 3, 2 / 3] as const;
/** Half the sides of the inner frame, as a share of half the picture. */
const INNER = 0.9;

/** Marks to frame by in what is delivered: its middle, its thirds, and a frame of nine tenths of its sides. */
export function createLensFraming(): LensLayer {
  const [thirds, inner, middle] = [svg("path", { class: "thirds" }), svg("rect", {}), svg("path", {})];
  const object = svg("g", { class: "framing-marks" }, thirds, inner, middle);
  let share: readonly [number, number] = [1, 1];
  let drawn: readonly number[] = [];
  return {
    object,
    load(open) {
      if (open) share = deliveredShare(open);
    },
    draw(_moment, width, height) {
      const [w, h] = [share[0] * width, share[1] * height];
      const [left, top] = [(width - w) / 2, (height - h) / 2];
      const lines = THIRDS.map((part) => {
        return `M${left + part * w} ${top}v${h}M${left} ${top + part * h}h${w}`;
      });
      setAttributes(thirds, { d: lines.join("") });
      drawn = [left + (1 - INNER) * 0.5 * w, top + (1 - INNER) * 0.5 * h, INNER * w, INNER * h];
      setAttributes(inner, { x: drawn[0], y: drawn[1], width: drawn[2], height: drawn[3] });
      setAttributes(middle, {
        d: `M${width / 2 - ARM} ${height / 2}h${2 * ARM}M${width / 2} ${height / 2 - ARM}v${2 * ARM}`,
      });
    },
    drawn: () => ({ framing: drawn }),
  };
}

/** What is delivered of the captured picture; it can't be more than that. */
function deliveredShare({ stage: { deliver, optics } }: OpenTake): readonly [number, number] {
  return [Math.min(deliver[0] / optics.resolution[0], 1), Math.min(deliver[1] / optics.resolution[1], 1)];
}
