export const TURN = 2 * Math.PI;

/** `angle` taken to -pi..pi. */
export function wrapAngle(angle: number): number {
  const rest = angle - TURN * Math.round(angle / TURN);
  return Object.is(rest, -0) ? 0 : rest;
}

/** The angle equal to `angle` but for whole turns that is nearest to `near`. */
export function nearestTurn(angle: number, near: number): number {
  return near + wrapAngle(angle - near);
}

/**
 * The angle equal to `angle` but for whole turns that lies in `low..high` and is nearest to `near`.
 *
 * @param slack Counts as inside [rad].
 * @returns `undefined` when none lies inside.
 */
export function turnWithin(angle: number, near: number, low: number, high: number, slack: number): number | undefined {
  const best = nearestTurn(angle, near);
  if (low - slack <= best && best <= high + slack) return best;
  const up = best + TURN * Math.ceil((low - slack - best) / TURN);
  const down = best - TURN * Math.ceil((best - high - slack) / TURN);
  const candidates = [up, down].filter((value) => low - slack <= value && value <= high + slack);
  candidates.sort((a, b) => Math.abs(a - near) - Math.abs(b - near));
  return candidates[0];
}
