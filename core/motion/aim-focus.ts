import type { PupilTable } from "../lens/resolved-optics.ts";
import type { FocusSpan, MoveModel } from "./move-model.ts";
import { createPupilSeriesRoom, pupilByFocus, pupilSeriesTerm, type PupilSeriesRoom } from "./pupil-series.ts";
import { productTerm, ROOM } from "./series.ts";
import { writeTarget, type TargetRoom } from "./target-series.ts";

/*
 * A lens whose pupil goes with focus, focused on a target: the focus distance is the target's place along the view as
 * seen from the flange, and so hangs on the axes that are being solved, but not on the pupil itself. It is carried down
 * with the aim's own points, and enters the aim's equations with its derivatives.
 */

/** What the pupil hangs on in one instant. */
export interface AimFocus {
  readonly table: PupilTable;
  readonly flange: number;
  readonly terms: PupilSeriesRoom;
  readonly focal: Float64Array;
  /** Focus distances of what focus goes from and to, (2, ROOM), the share of the way, and the distance that holds [m]. */
  readonly ends: Float64Array;
  readonly share: Float64Array;
  readonly distance: Float64Array;
  /** 1 for an end that is a target: its distance comes from its place. Shape (2,). */
  readonly onTarget: Uint8Array;
  /** 1 while focus is on a target, shape (1,); else the pupil is known beforehand. */
  readonly active: Uint8Array;
}

/** Points of focus that go down with an aim. */
export const FOCUS_POINTS = 2;

/** Room for an aim of a move, or `undefined` when its pupil does not go with the place of a target. */
export function aimFocusOf(model: MoveModel): AimFocus | undefined {
  const { optics } = model.move;
  const follows = model.focusSpans.some((span) => 0 <= span.from || 0 <= span.to);
  if (!follows || optics.pupil.near.length === 1) return undefined;
  return {
    table: optics.pupil,
    flange: optics.flange,
    terms: createPupilSeriesRoom(),
    focal: new Float64Array(ROOM),
    ends: new Float64Array(2 * ROOM),
    share: new Float64Array(ROOM),
    distance: new Float64Array(ROOM),
    onTarget: new Uint8Array(2),
    active: new Uint8Array(1),
  };
}

/** Writes what is known before the axes are: the places of both targets into `place[at ..]`, and the tracks. */
export function prepareFocus(
  model: MoveModel,
  focus: AimFocus,
  series: Float64Array,
  interval: number,
  order: number,
  room: TargetRoom,
  place: Float64Array,
  at: number,
): void {
  const span: FocusSpan | undefined = model.focusSpans[model.focusOf[interval]];
  focus.active[0] = span && (0 <= span.from || 0 <= span.to) ? 1 : 0;
  place.fill(0, at, at + FOCUS_POINTS * 3 * ROOM);
  if (focus.active[0] === 0) return;
  for (let end = 0; end < 2; end++) {
    const target = end === 0 ? span.from : span.to;
    focus.onTarget[end] = 0 <= target ? 1 : 0;
    if (0 <= target) writeTarget(model.targets[target], series, order, room, place, at + end * 3 * ROOM);
    else for (let k = 0; k <= order; k++) focus.ends[end * ROOM + k] = series[model.focus * ROOM + k];
  }
  for (let k = 0; k <= order; k++) {
    focus.focal[k] = series[model.focal * ROOM + k];
    focus.share[k] = span.share < 0 ? 0 : series[span.share * ROOM + k];
  }
}

/** Coefficient `k` of the pupil [m]; both points of focus are in the flange's frame in `place[at ..]`. */
export function focusedPupilTerm(focus: AimFocus, place: Float64Array, at: number, k: number): number {
  const { ends, share, distance } = focus;
  for (let end = 0; end < 2; end++) {
    if (focus.onTarget[end] === 0) continue;
    ends[end * ROOM + k] = place[at + end * 3 * ROOM + k] + (k === 0 ? focus.flange : 0);
  }
  distance[k] = ends[k] + productTerm(share, 0, ends, ROOM, k) - productTerm(share, 0, ends, 0, k);
  return pupilSeriesTerm(focus.table, focus.terms, focus.focal, 0, distance, 0, k);
}

/** How the pupil goes with an unknown, from how both points of focus go with it in `push[at ..]`. At order 0. */
export function focusedPupilPush(focus: AimFocus, push: Float64Array, at: number): number {
  const share = focus.share[0];
  const from = focus.onTarget[0] * push[at] * (1 - share);
  return pupilByFocus(focus.terms) * (from + focus.onTarget[1] * push[at + 3] * share);
}
