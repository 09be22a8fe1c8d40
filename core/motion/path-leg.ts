import { aimFocusOf } from "./aim-focus.ts";
import { aimProblem, createAimRoom, type AimProblem } from "./aim-problem.ts";
import type { PathLeg } from "./lay-paths.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import type { SolveRoom } from "./solve-instant.ts";

/** A stretch of the aim within a leg, before it is known which axes place the pupil. */
export interface LegSpan {
  readonly span: AimSpan;
  /** The aim's own equations there; absent where nothing is aimed. */
  readonly aim?: AimProblem;
}

/** The stretches of the aim within a leg, in order of time. */
export function spansOfLeg(spans: readonly AimSpan[], leg: PathLeg): LegSpan[] {
  return spans.flatMap((span): LegSpan[] => {
    const [start, end] = [Math.max(span.start, leg.from), Math.min(span.end, leg.to)];
    if (!(start < end)) return [];
    const { problem, path: _path, ...rest } = span;
    return [{ span: { ...rest, start, end }, ...(problem && { aim: problem }) }];
  });
}

/** The stretches of the aim outside all legs: unsolved, as the axes that they hang on go another way now. */
export function spansBeside(spans: readonly AimSpan[], legs: readonly PathLeg[]): AimSpan[] {
  return spans.flatMap((span) => {
    const { path: _path, ...rest } = span;
    const out: AimSpan[] = [];
    let { start } = span;
    for (const { from, to } of legs) {
      if (to <= start || span.end <= from) continue;
      if (start < from) out.push({ ...rest, start, end: from });
      start = Math.max(start, to);
    }
    if (start < span.end) out.push({ ...rest, start, end: span.end });
    return out;
  });
}

/** The spans of a leg with the pupil's place among their equations, and room for these. */
export function placedSpans(
  model: MoveModel,
  room: SolveRoom,
  spans: readonly LegSpan[],
  placing: readonly number[],
): AimSpan[] {
  const known = new Map<AimProblem | undefined, AimProblem>();
  return spans.map(({ span, aim }) => {
    let problem = known.get(aim);
    if (!problem) {
      problem = aimProblem(model.descent, aim?.unknown ?? [], aim?.targets ?? 0, aim?.level ?? false, placing);
      // A lone aim axis keeps the equation that it turns most.
      if (aim && 0 <= problem.row) problem.row = aim.row;
      known.set(aim, problem);
      room.aims.set(problem, createAimRoom(problem, aimFocusOf(model)));
    }
    return { ...span, problem };
  });
}
