import { runToEnd } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import { findingsOf, type Analysis } from "../../core/checks/analysis.ts";
import { retimeText, type MoveDocument, type NotRetimed, type Retimed } from "../../core/edit/times/retime-text.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { Fit } from "../../core/motion/retime-fit.ts";
import { limitShares } from "../../core/motion/retime-shares.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import { replaceText, WriteRefused } from "../../host/write-file.ts";
import { findDocument, sourcesFor, type Given } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { describeFindings } from "../finding-lines.ts";
import { renderJson } from "../json.ts";
import { renderRetiming } from "../render-retiming.ts";
import { retimeAnswer } from "../retime-answer.ts";

export interface RetimeOptions {
  readonly fit: Fit;
  readonly write?: true;
  readonly format: "text" | "json";
}

/**
 * `movewright retime`: the times at which a move keeps the limits of its axes, written into its text when asked to. Exit
 * code 1 when errors are left that time does not cure.
 */
export function retimeCommand(path: string, options: RetimeOptions): Outcome {
  const given = findDocument(path, "move");
  const document = readMove(given);
  const { move, trajectory } = document.analysis;
  if (!move || !trajectory) return uncomputed(given, document);
  const retimed = runToEnd(retimeText(document, options.fit));
  const isWritten = options.write === true && writeRetimed(given, document.text, retimed);
  const shares = retimed.status === "retimed" ? retimed.shares : runToEnd(limitShares(trajectory));
  const answer = retimeAnswer(document, options.fit, retimed, shares, isWritten);
  const output = options.format === "json" ? renderJson(answer) : renderRetiming(given.path, answer, move);
  const remaining = retimed.status === "retimed" ? retimed.remaining : errorsOf(document.analysis);
  const text = retimed.status === "retimed" && "text" in retimed.written ? retimed.written.text : document.text;
  return {
    output,
    exit: retimed.status === "retimed" && remaining.length === 0 ? 0 : 1,
    notes: describeFindings(given.path, text, remaining),
  };
}

function readMove(given: Given): MoveDocument {
  const { file } = given;
  const sources = sourcesFor([given]);
  const analysis = runToEnd(analyse(file, sources));
  const state = sources.read(file);
  const text = state.state === "text" ? state.text : "";
  return { file, text, tree: parseTree(text, documentKind(file)?.format ?? "yaml"), sources, analysis };
}

const errorsOf = (analysis: Analysis) => findingsOf(analysis).filter(({ severity }) => severity === "error");

function uncomputed(given: Given, { analysis, text }: MoveDocument): Outcome {
  const lines = describeFindings(given.path, text, errorsOf(analysis));
  return {
    output: "",
    exit: 1,
    notes: [...lines, `movewright: ${given.path} cannot be retimed before this is mended`],
  };
}

/** True when the file has changed. */
function writeRetimed(given: Given, read: string, retimed: Retimed | NotRetimed): boolean {
  if (retimed.status !== "retimed") return false;
  const { written } = retimed;
  if (!("text" in written)) throw new Failure(`${given.path} was not written: ${written.reason}`);
  if (written.edits.length === 0) return false;
  try {
    replaceText(given.path, read, written.text);
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(error.message);
    throw error;
  }
  return true;
}
