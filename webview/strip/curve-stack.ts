import type { Curve } from "./curve.ts";

/** Height below which a curve can no longer be read [px]. */
const SMALL = 84;
/** Free below the lowest [px]. */
const BELOW = 12;

/** Gives each plot its share of what the panel leaves once all names and values stand: less than that and the panel scrolls. */
export function layCurves(panel: HTMLElement, stack: HTMLElement, curves: readonly Curve[]): void {
  const plots = curves.filter((curve) => curve.over);
  if (plots.length === 0) return;
  const top = stack.getBoundingClientRect().top - panel.getBoundingClientRect().top + panel.scrollTop;
  const rest = curves.reduce((sum, curve) => sum + curve.restHeight(), top + BELOW);
  const height = Math.max(SMALL, Math.floor((panel.clientHeight - rest) / plots.length));
  for (const plot of plots) plot.setHeight(height);
}
