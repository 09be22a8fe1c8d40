import { descendPoint } from "./descend-point.ts";
import type { FocusSpan, MoveModel } from "./move-model.ts";
import { createJointRoom, type JointRoom, type MovingChain } from "./moving-chain.ts";
import { productTerm, ROOM } from "./series.ts";
import { createTargetRoom, writeTarget, type TargetRoom } from "./target-series.ts";

/** What the focus distance as a series in time needs; its joints are its own, so that no posed camera is disturbed. */
export interface FocusSeriesRoom {
  /** Focus distance from the sensor plane as a series, shape (ROOM,), orders 0 to 3 [m]; NaN when no key gives one. */
  readonly distance: Float64Array;
  /** The same of both things that focus goes over between, shape (2, ROOM). */
  readonly ends: Float64Array;
  readonly joints: JointRoom;
  readonly target: TargetRoom;
  readonly point: Float64Array;
}

export function createFocusSeriesRoom(chain: MovingChain): FocusSeriesRoom {
  return {
    distance: new Float64Array(ROOM),
    ends: new Float64Array(2 * ROOM),
    joints: createJointRoom(chain),
    target: createTargetRoom(),
    point: new Float64Array(3 * ROOM),
  };
}

/**
 * Focus distance from the sensor plane along the view, orders 0 to 3, into `room.distance`. A target's is its place ahead
 * of the flange, taken down the chain with its derivatives. Allocates nothing.
 *
 * @param series Series of all tracks and solved axes, orders 0 to 3.
 */
export function writeFocusSeries(
  model: MoveModel,
  chain: MovingChain,
  room: FocusSeriesRoom,
  series: Float64Array,
  interval: number,
): void {
  const { distance, ends } = room;
  const span: FocusSpan | undefined = model.focusSpans[model.focusOf[interval]];
  if (!span) {
    distance.fill(NaN);
    return;
  }
  writeEnd(model, chain, room, series, span.from, 0);
  if (span.share < 0) {
    for (let k = 0; k < ROOM; k++) distance[k] = ends[k];
    return;
  }
  writeEnd(model, chain, room, series, span.to, ROOM);
  for (let k = 0; k < ROOM - 1; k++) {
    const there = productTerm(series, span.share * ROOM, ends, ROOM, k);
    distance[k] = ends[k] + there - productTerm(series, span.share * ROOM, ends, 0, k);
  }
}

function writeEnd(
  model: MoveModel,
  chain: MovingChain,
  room: FocusSeriesRoom,
  series: Float64Array,
  target: number,
  to: number,
): void {
  const { ends, point } = room;
  if (target < 0) {
    for (let k = 0; k < ROOM - 1; k++) ends[to + k] = series[model.focus * ROOM + k];
    return;
  }
  const { count, rotation, origin } = chain;
  writeTarget(model.targets[target], series, 3, room.target, point, 0);
  descendPoint(chain, room.joints, series, count, point, 3);
  for (let axis = 0; axis < 3; axis++) point[axis * ROOM] -= origin[3 * count + axis];
  for (let k = 0; k < ROOM - 1; k++) {
    let ahead = k === 0 ? model.move.optics.flange : 0;
    for (let axis = 0; axis < 3; axis++) ahead += rotation[9 * count + axis] * point[axis * ROOM + k];
    ends[to + k] = ahead;
  }
}
