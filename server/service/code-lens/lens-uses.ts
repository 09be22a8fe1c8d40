import { baseName } from "../../../core/base/path.ts";
import type { FileId, Place, Span } from "../../../core/base/span.ts";
import type { Task } from "../../../core/base/task.ts";
import { findingsOf, type Analysis } from "../../../core/checks/analysis.ts";
import { documentKind } from "../../../core/model/document-kind.ts";
import { highest, peakOf, type Peak } from "../../../core/motion/peaks.ts";
import { firstName, type Lens } from "./lens.ts";
import { shareWords } from "../peak-words.ts";
import type { Solved, View } from "../view.ts";
import { withUsed, type ReadNames } from "../names/written-names.ts";

/** A move that uses a document, and the places where it names it. */
export interface MoveUse {
  readonly file: FileId;
  readonly places: readonly Place[];
}

/** What is known of such a move by now. */
export interface KnownUse extends MoveUse {
  /** The whole analysis of its present text; absent while it was not looked at. */
  readonly checked?: Analysis;
  /** Its motion, be it of an older text. */
  readonly solved?: Solved;
}

/** The moves among `files` that use `file`, themselves or through what they use. Yields after each. */
export function* movesUsing(file: FileId, files: readonly FileId[], read: ReadNames): Task<readonly MoveUse[]> {
  const uses: MoveUse[] = [];
  for (const each of files) {
    if (documentKind(each)?.kind !== "move") continue;
    const named = read(each);
    if (named && withUsed(named, read).some((used) => used.file === file)) {
      const places = named.references.filter((one) => one.file === file).map(({ span }) => ({ file: each, span }));
      uses.push({ file: each, places: places.length > 0 ? places : [{ file: each, span: { start: 0, end: 0 } }] });
    }
    yield;
  }
  return uses;
}

/** Kinds of documents that moves use. */
const USED = ["rig", "camera", "set"] as const;

/** At the beginning of a rig, camera or set: how many moves use it. Above each of its axes: to be asked for. */
export function useLenses(view: View, uses: readonly KnownUse[]): readonly Lens[] {
  const span = firstName(view);
  if (!span || !isUsed(view.kind)) return [];
  const places = uses.flatMap((use) => use.places);
  const own: Lens = {
    span,
    title: useWords(view.kind, uses),
    ...(places.length > 0 ? { action: { does: "show", places } } : {}),
  };
  const isMoved = (name: string): boolean =>
    uses.some(({ solved }) => solved?.trajectory.axes.some((axis) => axis.name === name));
  const axes = axesOf(view).filter(({ name }) => isMoved(name));
  return [own, ...axes.map((axis): Lens => ({ span: axis.span, about: { what: "axis", name: axis.name } }))];
}

export function isUsed(kind: View["kind"]): boolean {
  return USED.some((used) => used === kind);
}

/** `Used by 3 moves, 2 errors in them`. */
function useWords(what: string, uses: readonly KnownUse[]): string {
  if (uses.length === 0) return `No move uses this ${what}`;
  const many = uses.length === 1 ? "1 move" : `${uses.length} moves`;
  const checked = uses.flatMap((use) => use.checked ?? []);
  if (checked.length === 0) return `Used by ${many}`;
  const errors = checked.flatMap(findingsOf).filter(({ severity }) => severity === "error").length;
  const count = errors === 0 ? "no errors" : errors === 1 ? "1 error" : `${errors} errors`;
  const those = uses.length === 1 ? "it" : "them";
  return `Used by ${many}, ${count} in ${checked.length < uses.length ? `the ${checked.length} checked so far` : those}`;
}

/** Axes that the document defines, and those of a URDF file that it says more of. Each once. */
function axesOf({ file, tree, text, names }: View): readonly { readonly name: string; readonly span: Span }[] {
  const root = tree.root?.kind === "map" ? tree.root : undefined;
  const more = root?.entries.find(({ name }) => name === "axes");
  const found = new Map<string, Span>();
  for (const { kind, role, name, span } of names(file)?.names ?? []) {
    if (kind !== "axis" && kind !== "turntable") continue;
    const counts = role === "definition" || (more && more.start <= span.start && span.end <= more.end);
    if (counts && !found.has(name) && span.end <= text.length) found.set(name, span);
  }
  return [...found].map(([name, span]) => ({ name, span }));
}

/** `Most used by Lid to spout: 96 % of speed at 1.2 s`: the move that takes an axis nearest to one of its limits. */
export function axisLens(name: string, uses: readonly KnownUse[]): Pick<Lens, "title" | "action"> {
  const peaks = uses.flatMap(({ solved, places, file }) => {
    const axis = solved?.trajectory.axes.findIndex((each) => each.name === name) ?? -1;
    if (!solved || axis < 0) return [];
    const peak = highest(([1, 2, 3, 0] as const).flatMap((order) => peakOf(solved.trajectory, axis, order) ?? []));
    return [{ title: solved.move.title.trim() || baseName(file), peak, places }];
  });
  const worst = peaks.reduce<(typeof peaks)[number] | undefined>(
    (most, each) => (shareOf(each.peak) > shareOf(most?.peak) ? each : most),
    undefined,
  );
  if (!worst?.peak) return { title: peaks.length === 0 ? "No checked move moves it" : "No limit is given for it" };
  // A share that is said as 0 % tells nothing of a limit.
  if (worst.peak.share < 0.005)
    return { title: peaks.length === 1 ? "Rests in the move that is checked" : "Rests in all checked moves" };
  const words = `${shareWords(worst.peak)}, at ${Number(worst.peak.t.toFixed(2))} s`;
  return { title: `Most used by ${worst.title}: ${words}`, action: { does: "show", places: worst.places } };
}

function shareOf(peak: Peak | undefined): number {
  return peak?.share ?? -1;
}
