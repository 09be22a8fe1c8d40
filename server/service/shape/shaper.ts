import { capital } from "../../../core/base/capital.ts";
import type { FileId } from "../../../core/base/span.ts";
import type { Task } from "../../../core/base/task.ts";
import { analyseText, type AnalysisMemo } from "../../../core/checks/analyse.ts";
import type { Analysis } from "../../../core/checks/analysis.ts";
import { applyEdits, type TextEdits } from "../../../core/edit/apply-edits.ts";
import type { ShapeIntent } from "../../../core/edit/shape/intent.ts";
import { shapeMove } from "../../../core/edit/shape/shape-move.ts";
import type { ShapedMove, Shaping, ShapeStop } from "../../../core/edit/shape/shaped.ts";
import { planTrajectory } from "../../../core/motion/plan.ts";
import type { PlanRecord } from "../../../core/motion/plan-record.ts";
import type { ResolvedMove } from "../../../core/motion/resolved-move.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";
import type { Tree } from "../../../core/syntax/tree.ts";
import { packBriefTake } from "../../../protocol/codec.ts";
import type { ShapePreview, ShapeRefusal, StageStop } from "../../../protocol/stage-shape.ts";
import { sampleTimes } from "../stage/stage-take.ts";
import type { Solved, View } from "../view.ts";
import { changedRows } from "./changed-rows.ts";
import { aimStop, keyStop } from "./solved-stop.ts";

/** A solved move that is being shaped: wishes are solved beside its document, which stays as it is. */
export interface Shaper {
  /** How the move would go. */
  preview(intent: ShapeIntent): Task<ShapePreview | ShapeRefusal>;
  /** The edits that write it, once it is known that the move can be read with them. */
  edits(intent: ShapeIntent): Written | ShapeRefusal;
}

export interface Written {
  readonly file: FileId;
  readonly edits: TextEdits;
  readonly says: string;
  readonly stop?: StageStop;
}

interface Tried {
  readonly made: Exclude<Shaping, ShapeRefusal>;
  readonly move: ResolvedMove;
}

/**
 * @param memo What reading the move's documents left; it goes from wish to wish.
 * @param parse The tree of another document.
 */
export function createShaper(
  view: View & { readonly solved: Solved },
  memo: AnalysisMemo,
  parse: (file: FileId, text: string) => Tree,
): Shaper {
  const { file, text, tree, sources, solved } = view;
  const base: Trajectory = solved.trajectory;
  let record: PlanRecord = base.record;
  let times: Float64Array | undefined;
  const textOf = (other: FileId): string | undefined => {
    const source = other === file ? { state: "text" as const, text } : sources.read(other);
    return source.state === "text" ? source.text : undefined;
  };
  const document: ShapedMove = {
    text,
    tree,
    move: solved.move,
    trajectory: base,
    origins: solved.origins,
    file,
    other(name) {
      const found = textOf(name);
      return found === undefined ? undefined : { text: found, tree: parse(name, found) };
    },
  };
  /** The move as its text would say it. */
  const read = (made: Tried["made"]): Analysis => {
    const edited = applyEdits(textOf(made.file) ?? "", made.edits);
    const around = { read: (each: FileId) => (each === made.file ? textState(edited) : sources.read(each)) };
    return analyseText(file, around, memo);
  };
  /** What a wish writes, and the move that is read from it. */
  const tried = (intent: ShapeIntent): Tried | ShapeRefusal => {
    const made = shapeMove(document, intent);
    if ("refusal" in made) return { refusal: sentence(made.refusal) };
    const { move, ...analysis } = read(made);
    return move ? { made, move } : { refusal: faultOf(analysis) };
  };
  return {
    *preview(intent) {
      const outcome = tried(intent);
      if ("refusal" in outcome) return outcome;
      const { made, move } = outcome;
      yield;
      const now = yield* planTrajectory(move, record);
      record = now.record;
      times ??= sampleTimes(base);
      const { time } = move.keys[intent.key];
      const rows = yield* changedRows(base, now, times, time, intent.kind === "target");
      const stop = made.stop ?? keyStop(now, intent.key) ?? aimStop(now, intent);
      return {
        says: sentence(made.says),
        ...(stop ? { stop: stopOf(stop) } : {}),
        ...(rows ? { patch: { from: rows.from, to: rows.to, rows: packBriefTake(rows.take) } } : {}),
        duration: now.duration,
        times: move.keys.map((key) => key.time),
        ...(intent.kind === "target" ? { target: { index: intent.target, at: move.targets[intent.target].at } } : {}),
        share: rows ? rows.take.share.reduce((most, share) => Math.max(most, share), 0) : 0,
      };
    },
    edits(intent) {
      const outcome = tried(intent);
      if ("refusal" in outcome) return outcome;
      const { file: written, edits, stop, says } = outcome.made;
      return { file: written, edits, says: sentence(says), ...(stop ? { stop: stopOf(stop) } : {}) };
    },
  };
}

const textState = (text: string) => ({ state: "text", text }) as const;

const sentence = (clause: string): string => `${capital(clause)}.`;

const stopOf = ({ words, at }: ShapeStop): StageStop => ({ words: sentence(words), ...(at ? { at } : {}) });

/** What the text would say that no motion can be made of. */
function faultOf({ textFindings }: Omit<Analysis, "move">): string {
  const fault = textFindings.find(({ severity }) => severity === "error");
  return fault?.message ?? "The move could not be read then.";
}
