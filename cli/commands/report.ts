import { join, resolve } from "node:path";
import { documentKind } from "../../core/model/document-kind.ts";
import { GitFailure } from "../../host/git/git-failure.ts";
import { attempt, writeWhole, WriteRefused } from "../../host/write-file.ts";
import { replaceFolder } from "../../host/write-folder.ts";
import { checkDocuments } from "../checking/check-documents.ts";
import { atWork, type WorkOptions } from "../checking/work.ts";
import { findDocuments, rootsOf, type Given } from "../documents.ts";
import { Failure, type Outcome } from "../failure.ts";
import { runJobs } from "../jobs/job-table.ts";
import { renderJson } from "../json.ts";
import { progressOn } from "../progress.ts";
import { indexPage } from "../report/index-page.ts";
import { nameFrom } from "../report/name-from.ts";
import { pageNames } from "../report/page-names.ts";
import { MANIFEST, REPORT_FORM, requireRoom } from "../report/report-folder.ts";
import type { ReportOutput } from "../report/report-job.ts";
import { toldChange, type ToldChange } from "../report/told-change.ts";
import { kilobytes } from "../stage-page/page-room.ts";

export interface ReportOptions extends WorkOptions {
  readonly out: string;
  /** A revision of git. */
  readonly against?: string;
  readonly force?: true;
}

/**
 * `movewright report`: a folder of pages, one a move and an index. Nothing of it hangs on the time or on where the files lie.
 * Exit code as of `check`.
 */
export async function reportCommand(paths: readonly string[], options: ReportOptions): Promise<Outcome> {
  const asked = paths.length === 0 ? ["."] : paths;
  const documents = findDocuments(asked);
  try {
    requireRoom(options.out, [process.cwd(), ...documents.map(({ path }) => path)], options.force === true);
    return await replaceFolder(options.out, (aside) => writeReport(asked, documents, options, aside));
  } catch (error) {
    if (error instanceof WriteRefused || error instanceof GitFailure) throw new Failure(error.message);
    throw error;
  }
}

interface WrittenFile {
  readonly path: string;
  readonly bytes: number;
}

async function writeReport(
  paths: readonly string[],
  documents: readonly Given[],
  options: ReportOptions,
  folder: string,
): Promise<Outcome> {
  const { out, against, jobs } = options;
  const limit = jobs === undefined ? {} : { workers: jobs };
  const from = process.cwd();
  const nameOf = nameFrom(from);
  const change = against === undefined ? undefined : await toldChange(against, paths, nameOf, options);
  const moves = documents.filter(({ file }) => documentKind(file)?.kind === "move");
  const names = pageNames(moves.map(({ file }) => nameOf(file)));
  const outputs = await writeMoves(moves, names, { documents, folder, from, limit, change });
  const others = documents.filter(({ file }) => documentKind(file)?.kind !== "move");
  const checked = await atWork(options, "documents checked", (work) =>
    checkDocuments(others, { among: documents, ...work }),
  );
  const index = indexPage({
    moves: outputs.map(({ checked: one, files }, i) => {
      const told = change?.clauseOf(one.file);
      return {
        name: names[i],
        hasPage: files.length > 0,
        checked: one,
        ...(told === undefined ? {} : { change: told }),
      };
    }),
    others: checked,
    nameOf,
    ...(change ? { change } : {}),
  });
  const files = [{ path: "index.html", bytes: Buffer.byteLength(index) }, ...outputs.flatMap((one) => one.files)];
  const listed = outputs.map(({ checked: { file } }, i) => ({ file: nameOf(file), name: names[i] }));
  const manifest = renderJson({ "movewright-report": REPORT_FORM, moves: listed, files });
  attempt(out, () => {
    writeWhole(join(folder, "index.html"), index);
    writeWhole(join(folder, MANIFEST), manifest);
  });
  const findings = [...outputs.map((one) => one.checked), ...checked].flatMap((one) => one.findings);
  const notes = [...outputs.flatMap((one) => one.notes), ...(change?.notes ?? [])];
  return {
    output: sizes(out, files),
    exit: findings.some(({ severity, allowed }) => severity === "error" && allowed === undefined) ? 1 : 0,
    notes: notes.map((note) => `movewright: ${note}`),
  };
}

interface MovesSetting {
  readonly documents: readonly Given[];
  readonly folder: string;
  readonly from: string;
  readonly limit: { readonly workers?: number };
  readonly change: ToldChange | undefined;
}

async function writeMoves(
  moves: readonly Given[],
  names: readonly string[],
  { documents, folder, from, limit, change }: MovesSetting,
): Promise<readonly ReportOutput[]> {
  const inputs = moves.map(({ file }, i) => ({ file, name: names[i], ...change?.inputOf(file) }));
  const setting = { roots: rootsOf(documents), folder: resolve(folder), from, ...(change ? { change: { setting: change.setting, before: change.before } } : {}) }; // prettier-ignore
  const { onProgress, end } = progressOn(process.stderr, process.env, "moves written");
  return runJobs("report", setting, inputs, { onProgress, ...limit }).finally(end);
}

/** One line a page, and what all comes to. */
function sizes(out: string, files: readonly WrittenFile[]): string {
  const pages = files.filter(({ path }) => path.endsWith(".html"));
  const lines = pages.map(({ path, bytes }) => `${join(out, path)}: ${kilobytes(bytes)}`);
  const sum = (of: readonly WrittenFile[]): number => of.reduce((total, { bytes }) => total + bytes, 0);
  const stages = files.filter(({ path }) => path.startsWith("stages/"));
  return `${lines.join("\n")}\n${out}: ${files.length + 1} files, ${kilobytes(sum(files))}, of which stages ${kilobytes(sum(stages))}\n`;
}
