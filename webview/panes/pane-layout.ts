/** How panes stand in the room that they share: in a row, in a column, two by two, or the active one alone. */
export type PaneLayout = "row" | "column" | "grid" | "alone";

/** Room narrower than this has no panes beside one another, unless there are four [px]. */
const NARROW = 520;
/** What a pane needs at least, its header included, to show more than a smudge [px]. */
const LEAST_WIDTH = 140;
const LEAST_HEIGHT = 110;

/**
 * @param count  Panes: one, two or four.
 * @param width, height Of the room [px].
 */
export function layoutOf(count: number, width: number, height: number): PaneLayout {
  if (count === 1) return "alone";
  const layout: PaneLayout = count === 4 ? "grid" : width < NARROW ? "column" : "row";
  const [columns, rows] = { row: [2, 1], column: [1, 2], grid: [2, 2] }[layout];
  return width / columns < LEAST_WIDTH || height / rows < LEAST_HEIGHT ? "alone" : layout;
}
