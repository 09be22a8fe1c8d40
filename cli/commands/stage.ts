import { findingsOf } from "../../core/checks/analysis.ts";
import { runToEnd } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { programVersion } from "../../host/program-version.ts";
import { writeAnswer } from "../../host/write-answer.ts";
import { WriteRefused } from "../../host/write-file.ts";
import { findDocument, sourcesFor } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { describeFindings } from "../finding-lines.ts";
import { pageData } from "../stage-page/page-data.ts";
import { leftOut } from "../stage-page/page-meshes.ts";
import { kilobytes, withinRoom } from "../stage-page/page-room.ts";
import { pageProgram } from "../stage-page/page-program.ts";
import { isStagePage } from "../stage-page/render-page.ts";

export interface StageOptions {
  readonly out: string;
  /** Another move to compare with. */
  readonly against?: string;
  readonly force?: true;
}

/**
 * `movewright stage`: a move as one page with the stage, its findings and the texts that it is made of. A move with errors
 * gives a page too. Exit code as of `check`.
 */
export function stageCommand(path: string, { out, against, force }: StageOptions): Outcome {
  if (!/\.html?$/i.test(out)) throw new Failure(`--out ${out}: the page is HTML; name a file that ends in .html`);
  const given = findDocument(path, "move");
  const program = pageProgram();
  const other = against === undefined ? undefined : findDocument(against, "move");
  const sources = sourcesFor(other ? [given, other] : [given]);
  const analysis = runToEnd(analyse(given.file, sources));
  const findings = findingsOf(analysis).sort(byPlace);
  const compared = other && { analysis: runToEnd(analyse(other.file, sources)), label: titleOf(other.path) };
  const whole = pageData(analysis, findings, sources, programVersion(), compared);
  const { page, text, left } = withinRoom(whole, program);
  try {
    writeAnswer({ path: out, content: text, isOurs: isStagePage, force: force === true });
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(error.message);
    throw error;
  }
  const errors = findings.filter(({ severity }) => severity === "error");
  const source = sources.read(given.file);
  return {
    output: `${out}: ${kilobytes(Buffer.byteLength(text))}, ${findings.length} finding${findings.length === 1 ? "" : "s"}\n`,
    exit: errors.length > 0 ? 1 : 0,
    notes: [
      ...describeFindings(given.path, source.state === "text" ? source.text : "", errors),
      ...[...left, ...leftOut(page.meshes)].map((words) => `movewright: ${words}`),
    ],
  };
}

const byPlace = (a: PlacedFinding, b: PlacedFinding): number => a.place.span.start - b.place.span.start;

/** As people call it: the name of its file without what says its kind. */
const titleOf = (path: string): string => (path.split("/").pop() ?? path).replace(/\.move\.(yaml|yml|json)$/i, "");
