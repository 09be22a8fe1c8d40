import type { Palette } from "../palette.ts";

/** Dashes that tell the lines of one graph apart, solid first [px]. */
const DASHES: readonly (readonly number[])[] = [[], [8, 3], [3, 3], [10, 3, 2, 3], [14, 4], [2, 5], [6, 2, 2, 2, 2, 2]];
/** Turn of the hue from line to line [deg], far from any simple share of the circle. */
const HUE_STEP = 137.5;

export interface LineLook {
  readonly stroke: string;
  readonly dash: readonly number[];
}

/** Look of the n-th line of a graph, of an axis in all graphs. */
export function lineLook(n: number, palette: Palette): LineLook {
  const hue = (210 + n * HUE_STEP) % 360;
  const stroke = palette.contrast ? palette.css.ink : `hsl(${hue} 55% ${palette.dark ? 68 : 38}%)`;
  return { stroke, dash: DASHES[n % DASHES.length] };
}

/** The only line of a graph. */
export const aloneLook = (palette: Palette): LineLook => ({ stroke: palette.css.ink, dash: [] });

/** The same line of a move that is compared with: fine dots of a quieter colour. */
export const ghostLook = (look: LineLook, palette: Palette): LineLook => ({
  stroke: look.dash.length === 0 ? palette.css.quiet : look.stroke,
  dash: [1.5, 3],
});
