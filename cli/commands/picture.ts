import { runToEnd } from "../../core/base/task.ts";
import { analyseText } from "../../core/checks/analyse.ts";
import { isPicture } from "../../core/draw/picture-page.ts";
import { drawPicture, type PictureView } from "../../core/draw/picture.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import { writeAnswer } from "../../host/write-answer.ts";
import { WriteRefused } from "../../host/write-file.ts";
import { findDocument, sourcesFor } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { timeOption } from "../time-option.ts";
import { unsolvable, unsolvedNotes } from "./solve.ts";

export interface PictureOptions {
  readonly view: PictureView;
  readonly at: string;
  readonly out: string;
  readonly force?: true;
}

/** `movewright picture`: a move at one instant as an SVG document. A move that cannot be read gives exit code 1. */
export function pictureCommand(path: string, { view, at, out, force }: PictureOptions): Outcome {
  if (!/\.svg$/i.test(out)) {
    const isPng = /\.png$/i.test(out);
    const why = isPng ? "pictures are not written as PNG yet" : "the picture is SVG";
    throw new Failure(`--out ${out}: ${why}; name a file that ends in .svg`);
  }
  const given = findDocument(path, "move");
  const sources = sourcesFor([given]);
  const analysis = analyseText(given.file, sources);
  if (!analysis.move) return unsolvable(given, analysis, sources.read(given.file));
  const trajectory = runToEnd(planTrajectory(analysis.move));
  const t = timeOption(at, analysis.move, trajectory.duration);
  const text = runToEnd(drawPicture(trajectory, view, t));
  try {
    writeAnswer({ path: out, text, isOurs: isPicture, force: force === true });
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(error.message);
    throw error;
  }
  const size = Math.ceil(Buffer.byteLength(text) / 1000);
  return { output: `${out}: ${size} kB\n`, exit: 0, notes: unsolvedNotes(given, trajectory) };
}
