import type { Palette } from "../palette.ts";
import type { OpenTake } from "../take/open-take.ts";
import { readFactor, reading, shareReading, unitOf } from "../take/reading.ts";
import { axisShare, limitOf, ORDERS, tableOf, type OrderName } from "../take/share.ts";
import type { CurveSpec, Level } from "./curve.ts";

const TITLES: Readonly<Record<OrderName, string>> = {
  position: "Position",
  speed: "Speed",
  acceleration: "Acceleration",
  jerk: "Jerk",
};
/** Dashes that tell the lines of one graph apart, solid first [px]. */
const DASHES: readonly (readonly number[])[] = [[], [8, 3], [3, 3], [10, 3, 2, 3], [14, 4], [2, 5], [6, 2, 2, 2, 2, 2]];
/** Height below which a curve can no longer be read [px]. */
const SMALL = 84;
/** Turn of the hue from line to line [deg], far from any simple share of the circle. */
const HUE_STEP = 137.5;

/** Look of the line of one axis in the graph of all. */
export function lineLook(
  axis: number,
  palette: Palette,
): { readonly stroke: string; readonly dash: readonly number[] } {
  const hue = (210 + axis * HUE_STEP) % 360;
  const stroke = palette.contrast ? palette.css.ink : `hsl(${hue} 55% ${palette.dark ? 68 : 38}%)`;
  return { stroke, dash: DASHES[axis % DASHES.length] };
}

/** One graph a chosen order of one axis, sharing the height `room` [px] while there is enough. */
export function axisCurves(
  open: OpenTake,
  axis: number,
  orders: readonly OrderName[],
  palette: Palette,
  room: number,
): readonly CurveSpec[] {
  const { stage, take } = open;
  const { name, type } = stage.axes[axis];
  return orders.map((orderName, at) => {
    const order = ORDERS.indexOf(orderName);
    const table = tableOf(open, order);
    const factor = readFactor(type);
    const values = Float64Array.from({ length: take.count }, (_, i) => table[i * stage.axes.length + axis] * factor);
    const levels = levelsOf(open, axis, order);
    const [low, high] = extremes(values);
    return {
      title: TITLES[orderName],
      unit: unitOf(type, order),
      times: take.t,
      lines: [{ name, values, stroke: palette.css.ink, dash: [] }],
      levels,
      keyTimes: open.keyTimes,
      words:
        `${TITLES[orderName]} of ${name} over the move: from ${reading(type, order, low / factor)} ` +
        `to ${reading(type, order, high / factor)}. ${levels.map((level) => level.name).join(", ") || "No limit stated"}.`,
      lowest: at === orders.length - 1,
      height: Math.max(SMALL, room / orders.length),
    };
  });
}

/** Highest share of the limits of every axis that has some, in a graph of the height `room` [px]. */
export function shareCurve(open: OpenTake, peaks: ArrayLike<number>, palette: Palette, room: number): CurveSpec {
  const { stage, take } = open;
  const lines = stage.axes.flatMap((axis, index) => {
    if (!hasLimits(open, index)) return [];
    // Far over a limit the graph would flatten all else; twice the limit says enough.
    const values = Float64Array.from({ length: take.count }, (_, i) => Math.min(axisShare(open, index, i), 2) * 100);
    return [{ name: axis.name, values, ...lineLook(index, palette) }];
  });
  const named = stage.axes.flatMap((axis, i) => (hasLimits(open, i) ? [`${axis.name} ${shareReading(peaks[i])}`] : []));
  return {
    title: "Highest share of speed, acceleration and jerk limits",
    unit: "%",
    times: take.t,
    lines,
    levels: [{ at: 100, name: "limit" }],
    keyTimes: open.keyTimes,
    words: `Highest share of the limits of each axis over the move: ${named.join(", ") || "no axis has limits"}.`,
    lowest: true,
    height: Math.max(SMALL, room),
  };
}

export function hasLimits(open: OpenTake, axis: number): boolean {
  return [1, 2, 3].some((order) => limitOf(open.stage.axes[axis], order) !== undefined);
}

function levelsOf(open: OpenTake, axis: number, order: number): Level[] {
  const about = open.stage.axes[axis];
  const factor = readFactor(about.type);
  if (order === 0) {
    if (about.range === undefined) return [];
    return [
      { at: about.range.low * factor, name: `low end ${reading(about.type, 0, about.range.low)}` },
      { at: about.range.high * factor, name: `high end ${reading(about.type, 0, about.range.high)}` },
    ];
  }
  const limit = limitOf(about, order);
  if (limit === undefined) return [];
  return [
    { at: limit * factor, name: `limit ${reading(about.type, order, limit)}` },
    { at: -limit * factor, name: `limit ${reading(about.type, order, -limit)}` },
  ];
}

function extremes(values: Float64Array): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const value of values) [low, high] = [Math.min(low, value), Math.max(high, value)];
  return [low, high];
}
