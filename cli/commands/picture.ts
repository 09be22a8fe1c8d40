import { runToEnd } from "../../core/base/task.ts";
import { analyseText } from "../../core/checks/analyse.ts";
import { isPicture } from "../../core/draw/picture-page.ts";
import { drawPicture, type PictureView } from "../../core/draw/picture.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import { writeAnswer } from "../../host/write-answer.ts";
import { WriteRefused } from "../../host/write-file.ts";
import { findDocument, sourcesFor } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { isMarkedPng, markPng } from "../png-mark.ts";
import { pngWidth, widthOption } from "../png-width.ts";
import { rasterise } from "../rasterise.ts";
import { timeOption } from "../time-option.ts";
import { unsolvable, unsolvedNotes } from "./solve.ts";

export interface PictureOptions {
  readonly view: PictureView;
  readonly at: string;
  readonly out: string;
  readonly width?: string;
  readonly force?: true;
}

/** `movewright picture`: a move at one instant as an SVG or a PNG. A move that cannot be read gives exit code 1. */
export async function pictureCommand(path: string, options: PictureOptions): Promise<Outcome> {
  const { view, at, out, force } = options;
  const isPng = /\.png$/i.test(out);
  if (!isPng && !/\.svg$/i.test(out)) {
    throw new Failure(`--out ${out}: a picture is SVG or PNG; name a file that ends in .svg or .png`);
  }
  const asked = widthOption(options.width, isPng);
  const given = findDocument(path, "move");
  const sources = sourcesFor([given]);
  const analysis = analyseText(given.file, sources);
  const { move } = analysis;
  if (!move) return unsolvable(given, analysis, sources.read(given.file));
  const trajectory = runToEnd(planTrajectory(move));
  const t = timeOption(at, move, trajectory.duration);
  const text = runToEnd(drawPicture(trajectory, view, t));
  const made = isPng ? await rasterise(text, pngWidth(asked, view, move.deliver), out) : undefined;
  const content = made ? markPng(made.png) : text;
  try {
    writeAnswer({ path: out, content, isOurs: isPng ? isMarkedPng : isPicture, force: force === true });
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(error.message);
    throw error;
  }
  const size = Math.ceil(Buffer.byteLength(content) / 1000);
  return {
    output: `${out}: ${size} kB\n`,
    exit: 0,
    notes: [...unsolvedNotes(given, trajectory), ...missingNotes(out, made?.missing ?? [])],
  };
}

function missingNotes(out: string, letters: readonly string[]): string[] {
  if (letters.length === 0) return [];
  return [
    `movewright: ${out}: the font of a PNG has no ${letters.join(" ")}; name a file that ends in .svg to see ${letters.length === 1 ? "it" : "them"}`,
  ];
}
