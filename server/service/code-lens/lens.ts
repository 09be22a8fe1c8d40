import { findingsOf } from "../../../core/checks/analysis.ts";
import type { FileId, Place, Span } from "../../../core/base/span.ts";
import { trimmed } from "../../../core/base/units.ts";
import { worstPeak } from "../../../core/motion/peaks.ts";
import { placeOfKey } from "../key-place.ts";
import { LIMIT_WORDS, peakWords } from "../peak-words.ts";
import { byGravity, countWords } from "../finding-counts.ts";
import type { Solved, View } from "../view.ts";

/** What a click on a lens does. */
export type LensAction =
  | { readonly does: "open-stage" }
  /** Plays from there [s]. */
  | { readonly does: "play"; readonly time: number }
  | { readonly does: "show"; readonly places: readonly Place[] };

/** A line above a piece of text. One without a title is asked for when it comes into sight. */
export interface Lens {
  readonly span: Span;
  readonly title?: string;
  readonly action?: LensAction;
  /** What a lens without a title is about. */
  readonly about?: LensAbout;
}

/** What is computed only when a person sees it: the limits of the whole move, or the use of an axis by all moves. */
export type LensAbout = { readonly what: "peaks" } | { readonly what: "axis"; readonly name: string };

/** Which lenses a person wants. */
export interface LensChoice {
  readonly stage: boolean;
  readonly peaks: boolean;
  readonly play: boolean;
}

/** Most lenses that play from a key: editors slow down on more. The keys after these have none. */
export const PLAY_LENSES_CAP = 500;
/** Most places that a lens shows. */
const PLACES_CAP = 500;

/**
 * Lenses of a move: three at its beginning (stage, how near it comes to each limit, findings), and one on each key.
 *
 * @param checked Whether the motion of this text was checked: what was found before is not counted.
 */
export function moveLenses(view: View, choice: LensChoice, checked: boolean): readonly Lens[] {
  const span = firstName(view);
  if (!span) return [];
  const { solved } = view;
  return [
    ...(choice.stage ? [{ span, title: "Open stage", action: { does: "open-stage" } as const }] : []),
    ...(choice.peaks && solved ? [{ span, about: { what: "peaks" } as const }] : []),
    ...(choice.peaks ? findingLenses(view, span, checked) : []),
    ...(choice.play && solved ? playLenses(view, solved) : []),
  ];
}

/** The first name of the document, above which its own lenses stand. */
export function firstName({ tree: { root } }: View): Span | undefined {
  return root?.kind === "map" ? root.entries[0]?.nameSpan : undefined;
}

/** `6 s: speed 70 % of 0.4 m/s (slide, 2 s), …`: the axis that comes nearest to each limit, and when. */
export function peaksLens(solved: Solved, file: FileId): Pick<Lens, "title" | "action"> {
  const { trajectory } = solved;
  const worst = ([1, 2, 3, 0] as const).flatMap((order) => worstPeak(trajectory, order) ?? []);
  const said = worst.map((peak) => {
    const where = `${trajectory.axes[peak.axis].name}, ${trimmed(peak.t, 2)} s`;
    return `${LIMIT_WORDS[peak.order]} ${peakWords(trajectory, peak)} (${where})`;
  });
  const stale = solved.stale ? " in the last text that could be solved" : "";
  const length = `${trimmed(trajectory.duration, 2)} s${stale}`;
  const keys = worst.flatMap(({ t }) => placeOfKey(solved, keyBefore(solved, t)) ?? []);
  const places = keys.filter((place, idx) => place.file === file && isFirst(keys, place, idx));
  return {
    title: said.length === 0 ? `${length}, no limit is given` : `${length}: ${said.join(", ")}`,
    ...(places.length > 0 ? { action: { does: "show", places } } : {}),
  };
}

function isFirst(places: readonly Place[], { file, span }: Place, idx: number): boolean {
  return places.findIndex((each) => each.file === file && each.span.start === span.start) === idx;
}

function keyBefore({ move }: Solved, t: number): number {
  return move.keys.reduce((last, { time }, key) => (time <= t ? key : last), 0);
}

function findingLenses({ analysis, file }: View, span: Span, checked: boolean): Lens[] {
  const found = findingsOf(analysis);
  if (!checked && found.length === 0) return [];
  const inOrder = byGravity(found);
  const places = inOrder.map(({ place }) => place).filter((place) => place.file === file);
  const title = countWords(found) || "no findings";
  return [
    { span, title, ...(places.length > 0 ? { action: { does: "show", places: places.slice(0, PLACES_CAP) } } : {}) },
  ];
}

/** One on each line that a key begins on. */
function playLenses({ file, text }: View, solved: Solved): Lens[] {
  const lenses: Lens[] = [];
  let lineEnd = -1;
  for (let key = 0; key < solved.move.keys.length && lenses.length < PLAY_LENSES_CAP; key += 1) {
    const place = placeOfKey(solved, key);
    if (place?.file !== file || place.span.start <= lineEnd) continue;
    const rest = text.slice(place.span.start).search(/[\r\n]/);
    lineEnd = rest < 0 ? text.length : place.span.start + rest;
    const { time } = solved.move.keys[key];
    // At the end there is nothing left to play.
    if (time < solved.trajectory.duration)
      lenses.push({ span: place.span, title: "Play from here", action: { does: "play", time } });
  }
  return lenses;
}
