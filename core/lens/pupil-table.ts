import { monotoneSlopes } from "./monotone-slopes.ts";
import type { PupilTable } from "./resolved-optics.ts";
import { createPupilRoom, writePupilTerms } from "./pupil.ts";

/** One row as the text states it. */
export interface PupilRow {
  /** Focal length [m]. */
  readonly focal: number;
  /** One over the focus distance from the sensor plane [1/m], 0 for infinity; absent: the row holds for every distance. */
  readonly near?: number;
  /** Entrance pupil in front of the flange [m]. */
  readonly at: number;
}

/** Value, slope along focal length, slope along nearness, mixed slope. */
type Node = [number, number, number, number];

/** Beyond its first and last row a pupil levels off over this share of the neighbouring step. */
const LEVELS_OFF = 1 / 4;

/** After so many halvings the slopes of a cell are taken as 0, which always keeps it between its corners. */
const MOST_HALVINGS = 8;

/**
 * Lays a table through rows. Between two rows runs a polynomial of degree 9 that meets both with their slopes and with
 * second to fourth derivatives 0, so that the pupil is smooth to the fourth derivative and a zoom or a focus pull steps
 * nothing up to jerk. It rises where the rows rise and never overshoots them; rows on a line give that line.
 *
 * @param rows One or more: by focal length ascending, within one by nearness ascending; those of a focal length either
 *             all have `near` or are a single row without. Each focal length may have distances of its own.
 */
export function pupilTable(rows: readonly PupilRow[]): PupilTable {
  const focal = [...new Set(rows.map((row) => row.focal))];
  const near = [...new Set(rows.flatMap((row) => row.near ?? []))].sort((a, b) => a - b);
  if (near.length === 0) near.push(0);
  const values = focal.map((length) =>
    valuesAt(
      rows.filter((row) => row.focal === length),
      near,
    ),
  );
  const alongNear = values.map((line) => monotoneSlopes(near, line));
  const alongFocal = near.map((_, k) =>
    monotoneSlopes(
      focal,
      values.map((line) => line[k]),
    ),
  );
  const mixed = focal.map((_, i) =>
    monotoneSlopes(
      near,
      alongFocal.map((column) => column[i]),
    ),
  );
  const grid = values.map((line, i) =>
    line.map((value, k): Node => [value, alongFocal[k][i], alongNear[i][k], mixed[i][k]]),
  );
  calm(focal, near, grid);
  return levelledOff(focal, near, grid);
}

/** Values of one focal length at all nearnesses of the table, those between its own rows along its own curve. */
function valuesAt(rows: readonly PupilRow[], near: readonly number[]): number[] {
  const own = rows.flatMap((row) => row.near ?? []);
  if (own.length === 0) return near.map(() => rows[0].at);
  const at = rows.map((row) => row.at);
  const slopes = monotoneSlopes(own, at);
  const line = levelledOff([0], own, [own.map((_, k): Node => [at[k], 0, slopes[k], 0])]);
  const room = createPupilRoom();
  return near.map((one) => {
    const row = own.indexOf(one);
    if (0 <= row) return at[row];
    writePupilTerms(line, 0, one, 0, room);
    return room.terms[0];
  });
}

/** Flattens slopes until no cell leaves the range of its corners, or falls where both its edges rise. */
function calm(focal: readonly number[], near: readonly number[], grid: readonly (readonly Node[])[]): void {
  // Flattening a node can unsettle the next cell, but each round past the halvings flattens one more for good.
  for (let round = 1; round <= MOST_HALVINGS + focal.length * near.length; round++) {
    const restless = new Set<Node>();
    for (let i = 0; i + 1 < focal.length; i++) {
      for (let k = 0; k + 1 < near.length; k++) {
        const corners = [grid[i][k], grid[i][k + 1], grid[i + 1][k], grid[i + 1][k + 1]] as const;
        if (isCalm(corners, focal[i + 1] - focal[i], near[k + 1] - near[k])) continue;
        for (const node of corners) restless.add(node);
      }
    }
    if (restless.size === 0) return;
    const share = round < MOST_HALVINGS ? 0.5 : 0;
    for (const node of restless) for (let n = 1; n < 4; n++) node[n] *= share;
  }
}

/**
 * A cell lies within its control points, and rises where they do. They run straight from each corner over 4/9 of the
 * cell both ways, so of the 100 these 4 by 4 are enough.
 */
function isCalm(corners: readonly [Node, Node, Node, Node], step: number, nearStep: number): boolean {
  const net = [0, 1, 2, 3].map((p) =>
    [0, 1, 2, 3].map((q) => {
      const [value, a, b, c] = corners[(p < 2 ? 0 : 2) + (q < 2 ? 0 : 1)];
      const x = ([0, 4, -4, 0][p] / 9) * step;
      const y = ([0, 4, -4, 0][q] / 9) * nearStep;
      return value + a * x + b * y + c * x * y;
    }),
  );
  const ends = corners.map((corner) => corner[0]);
  const slack = 1e-12 * Math.max(...ends.map(Math.abs));
  const [low, high] = [Math.min(...ends) - slack, Math.max(...ends) + slack];
  if (net.some((line) => line.some((value) => value < low || high < value))) return false;
  return (
    keepsRising(
      [ends[2] - ends[0], ends[3] - ends[1]],
      net[0].map((_, q) => net.map((line) => line[q])),
      slack,
    ) && keepsRising([ends[1] - ends[0], ends[3] - ends[2]], net, slack)
  );
}

/** False where both edges rise, fall or are level, and a line between them does not. */
function keepsRising(edges: readonly [number, number], lines: readonly (readonly number[])[], slack: number): boolean {
  const [lowest, highest] = [Math.min(...edges), Math.max(...edges)];
  if (lowest < 0 && 0 < highest) return true;
  return lines.every((line) =>
    line.every((value, i) => {
      const rise = i === 0 ? 0 : value - line[i - 1];
      return (lowest < 0 || -slack <= rise) && (0 < highest || rise <= slack);
    }),
  );
}

/** Adds rows on each side at which the pupil has levelled off; none beyond infinity. */
function levelledOff(
  focal: readonly number[],
  near: readonly number[],
  grid: readonly (readonly Node[])[],
): PupilTable {
  const wide = grid.map((line) => widened(near, line, 2));
  const columns = wide[0].map((_, k) =>
    widened(
      focal,
      wide.map((line) => line[k]),
      1,
    ),
  );
  const lines = columns[0].map((_, i) => columns.map((column) => column[i]));
  return { focal: placesOf(focal), near: placesOf(near), nodes: lines.flat(2) };
}

/** How far the levelling off reaches before the first and after the last place; 0 for none. */
function reaches(places: readonly number[]): [number, number] {
  const last = places.length - 1;
  if (last === 0) return [0, 0];
  const before = 0 < places[0] ? LEVELS_OFF * (places[1] - places[0]) : 0;
  return [before, LEVELS_OFF * (places[last] - places[last - 1])];
}

function placesOf(places: readonly number[]): number[] {
  const [before, after] = reaches(places);
  const last = places[places.length - 1];
  return [...(0 < before ? [places[0] - before] : []), ...places, ...(0 < after ? [last + after] : [])];
}

/** The nodes of one line with those beyond it; `along` tells which slope is the line's own. */
function widened(places: readonly number[], line: readonly Node[], along: 1 | 2): Node[] {
  const [before, after] = reaches(places);
  const off = (node: Node, reach: number): Node => {
    const level: Node = [...node];
    const across = along === 1 ? 2 : 1;
    // While the slope goes to 0 evenly, half of it is gone up.
    level[0] += (node[along] * reach) / 2;
    level[across] += (node[3] * reach) / 2;
    level[along] = level[3] = 0;
    return level;
  };
  return [
    ...(0 < before ? [off(line[0], -before)] : []),
    ...line,
    ...(0 < after ? [off(line[line.length - 1], after)] : []),
  ];
}
