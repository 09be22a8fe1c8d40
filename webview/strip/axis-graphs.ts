import type { MoveAxis } from "../../core/motion/resolved-move.ts";
import { sampleBefore, shareOfWay, throughBoth } from "../../core/base/sampling.ts";
import type { Palette } from "../palette.ts";
import type { OpenTake } from "../take/open-take.ts";
import { readFactor, reading, shareReading, unitOf } from "../take/reading.ts";
import { axisShare, limitOf, ORDERS, rangeShare, tableOf, type OrderName } from "../take/share.ts";
import { emptyCurve, type CurveSpec, type Level, type Line } from "./curve-spec.ts";
import { aloneLook, ghostLook, lineLook, type LineLook } from "./line-look.ts";
import { wholeExtent, type LineStore } from "./line-store.ts";
import { columnOf, samplesOf } from "./samples.ts";

const TITLES: Readonly<Record<OrderName, string>> = {
  position: "Position",
  speed: "Speed",
  acceleration: "Acceleration",
  jerk: "Jerk",
};
/** Twice a limit is the top of the scale: far over it a graph would flatten all else. */
const SHARE_CEILING = 200;
/** An axis that may not move at all and does: so many times its limit [%]. */
const UNBOUNDED = 1e6;
/** A line without a limit comes after those that have one, however bad these are. */
const WITHOUT_LIMIT = -1e9;

/** The take, and the one that it is compared with. */
export interface Stores {
  readonly own: LineStore;
  readonly ghost?: LineStore;
}

export function hasLimits(open: OpenTake, axis: number): boolean {
  return [1, 2, 3].some((order) => limitOf(open.stage.axes[axis], order) !== undefined);
}

/** Highest share of the limits of each of the chosen axes that has some. */
export function shareGraph({ own, ghost }: Stores, axes: readonly number[], palette: Palette): CurveSpec {
  const title = "Highest share of a limit";
  const limited = axes.filter((axis) => hasLimits(own.open, axis));
  if (limited.length === 0) return emptyCurve(title, "None of these axes states a limit.");
  const lines = limited.flatMap((axis) => {
    const { name } = own.open.stage.axes[axis];
    const look = lineLook(axis, palette);
    const line: Line = { name, ...look, extents: shares(own, axis), read: readShare, badness: (value) => value / 100 };
    const other = ghost?.open.stage.axes.findIndex((one) => one.name === name) ?? -1;
    if (!ghost || other < 0 || !hasLimits(ghost.open, other)) return [line];
    return [line, ghostOf({ ...line, extents: shares(ghost, other) }, look, palette)];
  });
  const named = lines.map((line) => `${line.name} ${readShare(wholeExtent(line.extents).high)}`);
  return {
    title,
    unit: "%",
    lines,
    levels: [{ at: 100, name: "limit" }],
    bands: [],
    ceiling: SHARE_CEILING,
    words: `Highest share of the limits of each axis over the move: ${named.join(", ")}.`,
  };
}

const readShare = (percent: number): string => shareReading(percent < UNBOUNDED ? percent / 100 : Infinity);

function shares(store: LineStore, axis: number) {
  const { open } = store;
  return store.line(`share ${axis}`, () => {
    const values = new Float64Array(open.take.count);
    for (let i = 0; i < values.length; i++) values[i] = Math.min(axisShare(open, axis, i) * 100, UNBOUNDED);
    return samplesOf(open.take.t, values);
  });
}

/** One graph a kind of axis: what is turned and what is slid never share a scale. */
export function orderGraphs(
  stores: Stores,
  orderName: OrderName,
  axes: readonly number[],
  palette: Palette,
): readonly CurveSpec[] {
  const { own } = stores;
  return (["linear", "rotary"] as const).flatMap((type) => {
    const these = axes.filter((axis) => own.open.stage.axes[axis].type === type);
    return these.length > 0 ? [orderGraph(stores, orderName, these, palette)] : [];
  });
}

function orderGraph(
  { own, ghost }: Stores,
  orderName: OrderName,
  axes: readonly number[],
  palette: Palette,
): CurveSpec {
  const order = ORDERS.indexOf(orderName);
  const { type } = own.open.stage.axes[axes[0]];
  const lines = axes.flatMap((axis): Line[] => {
    const { name } = own.open.stage.axes[axis];
    const look = axes.length === 1 ? aloneLook(palette) : lineLook(axis, palette);
    const line = orderLine(own, axis, order, look);
    const other = ghost?.open.stage.axes.findIndex((one) => one.name === name && one.type === type) ?? -1;
    return ghost && other >= 0 ? [line, ghostOf(orderLine(ghost, other, order, look), look, palette)] : [line];
  });
  const levels = axes.length === 1 ? levelsOf(own.open.stage.axes[axes[0]], order) : [];
  const spans = lines.map(({ name, extents, read }) => {
    const { low, high } = wholeExtent(extents);
    return `${name} from ${read(low)} to ${read(high)}`;
  });
  const limits = axes.length > 1 ? "" : ` ${levels.map((level) => level.name).join(", ") || "No limit stated"}.`;
  return {
    title: TITLES[orderName],
    unit: unitOf(type, order),
    lines,
    levels,
    bands: [],
    words: `${TITLES[orderName]} over the move: ${spans.join(", ")}.${limits}`,
  };
}

function orderLine(store: LineStore, axis: number, order: number, look: LineLook): Line {
  const { open } = store;
  const about = open.stage.axes[axis];
  const count = open.stage.axes.length;
  const factor = readFactor(about.type);
  const extents = store.line(`${ORDERS[order]} ${axis}`, () =>
    columnOf(open.take.t, tableOf(open, order), axis, count, factor),
  );
  const { low, high } = wholeExtent(extents);
  const most = Math.max(Math.abs(low), Math.abs(high)) || 1;
  const limit = limitOf(about, order);
  return {
    name: about.name,
    extents,
    ...look,
    read: (value) => reading(about.type, order, value / factor),
    ...(order === 0 ? { at: (time: number) => positionAt(open, axis, time) * factor } : {}),
    badness: (value) => {
      const share = order === 0 ? rangeShare(about, value / factor) : limit ? Math.abs(value) / factor / limit : NaN;
      return Number.isNaN(share) ? WITHOUT_LIMIT + Math.abs(value) / most : share;
    },
  };
}

/** Between two samples the cubic through both, as the rig is drawn. */
function positionAt({ take, stage }: OpenTake, axis: number, time: number): number {
  const count = stage.axes.length;
  const i = sampleBefore(take.t, time);
  if (take.count < 2) return take.value[axis];
  const [a, b] = [i * count + axis, (i + 1) * count + axis];
  const span = take.t[i + 1] - take.t[i];
  const share = shareOfWay(take.t, i, time);
  return throughBoth(take.value[a], take.speed[a], take.value[b], take.speed[b], span, share);
}

export function ghostOf(line: Line, look: LineLook, palette: Palette): Line {
  return { ...line, ...ghostLook(look, palette), name: `${line.name}, compared`, isGhost: true, badness: undefined };
}

function levelsOf(about: MoveAxis, order: number): Level[] {
  const factor = readFactor(about.type);
  if (order === 0) {
    if (about.range === undefined) return [];
    const { low, high } = about.range;
    return [
      { at: low * factor, name: `low end ${reading(about.type, 0, low)}` },
      { at: high * factor, name: `high end ${reading(about.type, 0, high)}` },
    ];
  }
  const limit = limitOf(about, order);
  if (limit === undefined) return [];
  return [limit, -limit].map((at) => ({ at: at * factor, name: `limit ${reading(about.type, order, at)}` }));
}
