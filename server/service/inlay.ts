import type { OriginId } from "../../core/base/origin-id.ts";
import { frameAt } from "../../core/base/rate.ts";
import type { Span } from "../../core/base/span.ts";
import { formatTimecode } from "../../core/base/timecode.ts";
import { formatQuantity, trimmed } from "../../core/base/units.ts";
import { worstShare } from "../../core/motion/peaks.ts";
import type { Instant } from "../../core/motion/trajectory.ts";
import { keysWithin, placeOf } from "./key-place.ts";
import { dimensionOf } from "./axis-dimension.ts";
import { LIMIT_WORDS } from "./peak-words.ts";
import type { Solved, View } from "./view.ts";

/** What stands behind a value of a key and is not text: a number that was solved for it. */
export interface InlayHint {
  /** Behind what stands before this offset. */
  readonly offset: number;
  readonly label: string;
  readonly tooltip: string;
}

/** Which hints a person wants. */
export interface InlayChoice {
  /** Frame number and timecode behind a time. */
  readonly times: boolean;
  /** Solved axes behind an aim and a camera key. */
  readonly solved: boolean;
  /** The highest share of a limit on the way to a key. */
  readonly peaks: boolean;
}

/** Hints of the keys that stand within `span`. From the last text that could be solved while this one can't. */
export function inlayHintsIn(view: View, span: Span, choice: InlayChoice): readonly InlayHint[] {
  const { solved } = view;
  if (!solved) return [];
  const instant = solved.trajectory.createInstant();
  const hints = keysWithin(solved, view.file, span).flatMap((key) => {
    solved.trajectory.at(solved.move.keys[key].time, instant);
    return [
      ...(choice.times ? timeHints(view, solved, key) : []),
      ...(choice.peaks ? peakHints(view, solved, key) : []),
      ...(choice.solved ? solvedHints(view, solved, key, instant) : []),
    ];
  });
  return hints.sort((one, other) => one.offset - other.offset);
}

/** A hint behind the text of a value, if that stands in the document. */
function behind(view: View, solved: Solved, origin: OriginId, label: string, about: string): InlayHint[] {
  const span = label === "" ? undefined : placeOf(solved, view.file, origin);
  const tooltip = solved.stale ? `${about} From the last text that could be solved.` : about;
  return span ? [{ offset: span.end, label, tooltip }] : [];
}

/** The notations in which the time is not written already. */
function timeHints(view: View, solved: Solved, key: number): InlayHint[] {
  const { move } = solved;
  const { time, timeOrigin } = move.keys[key];
  const span = placeOf(solved, view.file, timeOrigin);
  if (!span) return [];
  const written = view.text.slice(span.start, span.end);
  const isAfter = /after["']?\s*:\s*$/.test(view.text.slice(0, span.start));
  const frame = frameAt(move.rate, time);
  const parts = [
    ...(isAfter ? [formatQuantity(time, "time")] : []),
    ...(/f\b/.test(written) && !isAfter ? [] : [`frame ${frame}`]),
    ...(/[:;]/.test(written) && !isAfter ? [] : [formatTimecode(move.startFrame + frame, move.rate)]),
  ];
  return behind(view, solved, timeOrigin, parts.join(", "), "The time of this key as it is played.");
}

function peakHints(view: View, solved: Solved, key: number): InlayHint[] {
  const { move, trajectory } = solved;
  if (key === 0) return [];
  const worst = worstShare(trajectory, move.keys[key - 1].time, move.keys[key].time);
  if (!worst) return [];
  const { order, share, t } = worst;
  const axis = trajectory.axes[worst.axis];
  const of = LIMIT_WORDS[order];
  const label = Number.isFinite(share)
    ? `${Math.round(share * 100)} % of ${axis.name} ${of}`
    : `${axis.name} runs away`;
  const from = move.keys[key - 1].label;
  const about = `The highest share of any limit on the way from ${from} to ${move.keys[key].label}, at ${trimmed(t, 2)} s.`;
  return behind(view, solved, move.keys[key].timeOrigin, label, about);
}

/** Head axes behind the aim, the others that are solved behind the camera point. */
function solvedHints(view: View, solved: Solved, key: number, { value }: Instant): InlayHint[] {
  const { move, trajectory } = solved;
  const { axes, aim, camera, label } = move.keys[key];
  const stated = new Set(axes.map(({ axis }) => axis));
  const { head } = move.rig;
  const joints = head ? [head.pan, head.tilt, ...(head.roll === undefined ? [] : [head.roll])] : [];
  const isHead = (axis: number): boolean => joints.includes(move.axes[axis].joint);
  const free = trajectory.sources.flatMap((source, axis) => (source === "solved" && !stated.has(axis) ? [axis] : []));
  const say = (which: readonly number[]): string =>
    which
      .map((axis) => `${move.axes[axis].name} ${formatQuantity(value[axis], dimensionOf(move.axes[axis], 0))}`)
      .join(", ");
  const aims = aim?.kind === "target";
  const about = `Solved for ${label}.`;
  return [
    ...(aims ? behind(view, solved, aim.origin, say(free.filter((axis) => isHead(axis) || !camera)), about) : []),
    ...(camera ? behind(view, solved, camera.origin, say(free.filter((axis) => !aims || !isHead(axis))), about) : []),
  ];
}
