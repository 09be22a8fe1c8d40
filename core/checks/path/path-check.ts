import type { FindingCode } from "../../base/finding-code.ts";
import type { PathNote } from "../../motion/path-note.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";

/** What there is to say of a path, of one kind. */
export type NoteOf<K extends PathNote["kind"]> = Extract<PathNote, { readonly kind: K }>;

/** The notes of one kind of all paths of a move. */
export function pathNotes<K extends PathNote["kind"]>({ paths }: Trajectory, kind: K): NoteOf<K>[] {
  return paths.filter((note): note is NoteOf<K> => note.kind === kind);
}

/** True for a stretch of time [s] that, widened by `reach`, meets one in which a path is lost: that is what there is to say. */
export function isLost(
  { paths }: Trajectory,
  { from, to }: { readonly from: number; readonly to: number },
  reach = 0,
): boolean {
  return paths.some(
    (note) =>
      (note.kind === "out-of-reach" || note.kind === "branch-change") &&
      note.from <= to + reach &&
      from <= note.to + reach,
  );
}

/** A check that reads off what planning has noted of the paths: it takes no time of its own. */
export function pathCheck(code: FindingCode, find: (context: CheckContext) => readonly Finding[]): Check {
  return {
    code,
    *run(context) {
      yield;
      return find(context);
    },
  };
}
