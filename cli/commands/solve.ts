import { runToEnd } from "../../core/base/task.ts";
import { analyseText } from "../../core/checks/analyse.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import { passVariant } from "../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import { frameTimes, sampleTake } from "../../core/motion/sample.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import { findDocument, sourcesFor, type Given } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { renderJson } from "../json.ts";
import { describeFindings } from "../finding-lines.ts";
import { renderCsv, renderSamples, solveAnswer } from "../solve-answer.ts";
import { timeOption } from "../time-option.ts";

export interface SolveOptions {
  readonly at?: string;
  readonly pass?: string;
  readonly format: "text" | "json" | "csv";
}

/**
 * `movewright solve`: where axes, camera, lens and targets are, at every frame and the end, or at one time. A move that
 * cannot be read gives exit code 1 and its findings on stderr.
 */
export function solveCommand(path: string, options: SolveOptions): Outcome {
  const given = findDocument(path, "move");
  const sources = sourcesFor([given]);
  const analysis = analyseText(given.file, sources);
  if (!analysis.move) return unsolvable(given, analysis, sources.read(given.file));
  const move = options.pass === undefined ? analysis.move : movePlayedBy(analysis.move, options.pass);
  const trajectory = runToEnd(planTrajectory(move));
  const times = options.at === undefined ? frameTimes(trajectory) : [timeOption(options.at, move, trajectory.duration)];
  const answer = solveAnswer(trajectory, runToEnd(sampleTake(trajectory, times)));
  const output = { json: renderJson, csv: renderCsv, text: renderSamples }[options.format](answer);
  return { output, exit: 0, notes: unsolvedNotes(given, trajectory) };
}

function movePlayedBy(move: ResolvedMove, name: string): ResolvedMove {
  const pass = move.passes.find((one) => one.name === name);
  if (pass) return passVariant(move, pass);
  const names = move.passes.map((one) => one.name).join(", ");
  throw new Failure(`the move has no pass ${name}; ${names === "" ? "it has none" : `it has ${names}`}`);
}

/** Why nothing is computed of a move: its errors. */
export function unsolvable(
  given: Given,
  analysis: Analysis,
  state: { readonly state: string; readonly text?: string },
): Outcome {
  const lines = describeFindings(
    given.path,
    state.text ?? "",
    analysis.textFindings.filter((finding) => finding.severity === "error"),
  );
  return { output: "", exit: 1, notes: [...lines, `movewright: ${given.path} cannot be solved before this is mended`] };
}

/** Keys whose values are not what the move asks for. */
export function unsolvedNotes(given: Given, { keys, move }: Trajectory): string[] {
  const labels = keys.flatMap(({ status }, idx) => (status === "converged" ? [] : [move.keys[idx].label]));
  if (labels.length === 0) return [];
  return [
    `movewright: ${labels.join(", ")} could not be solved; the values are the nearest found (check ${given.path})`,
  ];
}
