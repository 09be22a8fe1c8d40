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
import { pageProgram } from "../stage-page/page-program.ts";
import { isStagePage, renderPage } from "../stage-page/render-page.ts";

export interface StageOptions {
  readonly out: string;
  readonly force?: true;
}

/**
 * `movewright stage`: a move as one page with the stage, its findings and the texts that it is made of. A move with errors
 * gives a page too. Exit code as of `check`.
 */
export function stageCommand(path: string, { out, force }: StageOptions): Outcome {
  if (!/\.html?$/i.test(out)) throw new Failure(`--out ${out}: the page is HTML; name a file that ends in .html`);
  const given = findDocument(path, "move");
  const program = pageProgram();
  const sources = sourcesFor([given]);
  const analysis = runToEnd(analyse(given.file, sources));
  const findings = findingsOf(analysis).sort(byPlace);
  const page = pageData(analysis, findings, sources, programVersion());
  const text = renderPage(page, program);
  try {
    writeAnswer({ path: out, content: text, isOurs: isStagePage, force: force === true });
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(error.message);
    throw error;
  }
  const errors = findings.filter(({ severity }) => severity === "error");
  const source = sources.read(given.file);
  const size = Math.ceil(Buffer.byteLength(text) / 1000);
  return {
    output: `${out}: ${size} kB, ${findings.length} finding${findings.length === 1 ? "" : "s"}\n`,
    exit: errors.length > 0 ? 1 : 0,
    notes: [
      ...describeFindings(given.path, source.state === "text" ? source.text : "", errors),
      ...leftOut(page.meshes).map((words) => `movewright: ${words}`),
    ],
  };
}

const byPlace = (a: PlacedFinding, b: PlacedFinding): number => a.place.span.start - b.place.span.start;
