import { lookThrough, type LookOptions } from "../checking/look-through.ts";
import { isFailing, type Strictness } from "../check/check-failing.ts";
import { reportOf, type Against } from "../check/check-report.ts";
import { renderCheck, type CheckFormat, type FormatOptions } from "../check/formats.ts";
import { readOutputs, writeOutput } from "../check/outputs.ts";
import { pathFrom } from "../check/repository-names.ts";
import type { Outcome } from "../failure.ts";
import { plain, type Paint } from "../paint.ts";

export interface CheckOptions extends Strictness, Against, LookOptions {
  readonly format: CheckFormat;
  /** More answers, as `FORMAT=FILE`. */
  readonly out?: readonly string[];
  /** Address of the page that explains the findings. */
  readonly helpPage?: string;
  readonly paint: Paint;
}

/**
 * `movewright check`: all findings of all documents, in one format or several. Exit code 1 when a finding that counts is an
 * error, or a warning where these are not wanted or too many; a finding that is allowed or known does not count.
 */
export async function checkCommand(paths: readonly string[], options: CheckOptions): Promise<Outcome> {
  const outputs = readOutputs(options.out ?? []);
  const began = new Date();
  const { documents, checked, notes: said } = await lookThrough(paths, options);
  const { report, notes: compared } = await reportOf(checked, documents, options);
  const given = new Map(documents.map(({ file, path }) => [file, path]));
  const rendering: FormatOptions = {
    ...options,
    began,
    pathOf: (file) => given.get(file) ?? pathFrom(process.cwd(), file),
  };
  for (const output of outputs) {
    const content = renderCheck(output.format, report, { ...rendering, paint: plain });
    writeOutput(output, content, options.force === true);
  }
  return {
    output: renderCheck(options.format, report, rendering),
    exit: isFailing(report, options) ? 1 : 0,
    notes: [...said, ...compared].map((note) => (note.startsWith(" ") ? note : `movewright: ${note}`)),
  };
}
