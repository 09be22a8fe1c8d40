import type { CheckReport, ReportedDocument } from "../../core/exchange/check-report.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { programVersion } from "../../host/program-version.ts";
import type { WorkOptions } from "../checking/work.ts";
import { rootsOf, type Given } from "../documents.ts";
import { baselineEntries, readBaseline, writeBaseline } from "./baseline.ts";
import { markListed } from "./listed-findings.ts";
import { namesFrom, repositoryTop } from "./repository-names.ts";
import { compareWithBase } from "./since.ts";

/** With what findings are compared. */
export interface Against {
  /** A revision: what it has too is known. */
  readonly since?: string;
  /** A file of known findings. */
  readonly baseline?: string;
  /** The same, made from what counts now. */
  readonly writeBaseline?: string;
  /** Replaces a file that is something else too. */
  readonly force?: boolean;
}

/** What was found in documents, with what is known of it, and what has to be said beside it. */
export async function reportOf(
  checked: readonly CheckedDocument[],
  given: readonly Given[],
  { since, baseline, writeBaseline: target, force, ...work }: Against & WorkOptions,
): Promise<{ readonly report: CheckReport; readonly notes: readonly string[] }> {
  const compared =
    since === undefined
      ? { documents: checked, breaking: [], notes: [] }
      : await compareWithBase(checked, since, rootsOf(given), work);
  const made = target === undefined ? [] : makeBaseline(target, compared.documents, force === true);
  const file = target ?? baseline;
  const listed =
    file === undefined
      ? { documents: compared.documents, notes: [] }
      : markListed(compared.documents, file, readBaseline(file));
  const report: CheckReport = {
    documents: listed.documents,
    breaking: compared.breaking,
    ...(since === undefined ? {} : { since }),
    ...(file === undefined ? {} : { baseline: file }),
    nameOf: namesFrom(repositoryTop(process.cwd())),
    version: programVersion(),
  };
  return { report, notes: [...compared.notes, ...made, ...listed.notes] };
}

function makeBaseline(path: string, documents: readonly ReportedDocument[], force: boolean): string[] {
  const entries = baselineEntries(path, documents);
  writeBaseline(path, entries, force);
  const findings = entries.reduce((sum, { count }) => sum + count, 0);
  return [`${path} lists ${findings} known finding${findings === 1 ? "" : "s"}`];
}
