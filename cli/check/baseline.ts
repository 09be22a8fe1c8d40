import { dirname, relative, resolve, sep } from "node:path";
import { isRecord } from "../../core/base/is-record.ts";
import { readJson } from "../../core/base/read-json.ts";
import type { FileId } from "../../core/base/span.ts";
import { counts, identity, type ReportedDocument } from "../../core/exchange/check-report.ts";
import { readText } from "../../host/disk-sources.ts";
import { fileOfPath, pathOfFile } from "../../host/file-path.ts";
import { writeAnswer } from "../../host/write-answer.ts";
import { Failure } from "../failure.ts";
import { written } from "./outputs.ts";

/** Version of the file's shape. It grows when a reader of the old shape would break. */
export const BASELINE_VERSION = 1;

const START = `{\n  "baseline": `;

/** So many findings of a code about an element of a document. */
export interface BaselineEntry {
  /** From the folder of the baseline, `/` between its parts. */
  readonly path: string;
  readonly code: string;
  readonly element: string;
  readonly count: number;
}

/** The errors and warnings that count, in the order of their paths, codes and elements. */
export function baselineEntries(path: string, documents: readonly ReportedDocument[]): BaselineEntry[] {
  const entries = new Map<string, BaselineEntry>();
  for (const document of documents) {
    for (const finding of document.findings) {
      if (!counts(finding) || (finding.severity !== "error" && finding.severity !== "warning")) continue;
      const own = pathIn(path, document.file);
      const name = `${own} ${identity(finding)}`;
      const count = (entries.get(name)?.count ?? 0) + 1;
      entries.set(name, { path: own, code: finding.code, element: finding.element, count });
    }
  }
  return [...entries].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)).map(([, entry]) => entry);
}

const pathIn = (baseline: string, file: FileId): string =>
  relative(dirname(resolve(baseline)), pathOfFile(file))
    .split(sep)
    .join("/");

/** The document of an entry. */
export const fileOfEntry = (baseline: string, { path }: BaselineEntry): FileId =>
  fileOfPath(resolve(dirname(resolve(baseline)), ...path.split("/")));

/** Writes a baseline, an entry a line, so that a change of it reads well. Throws `Failure` for a file that is none. */
export function writeBaseline(path: string, entries: readonly BaselineEntry[], force: boolean): void {
  const lines = entries.map(({ path: own, code, element, count }) => {
    const entry = { path: own, code, element, ...(count === 1 ? {} : { count }) };
    return `\n    ${JSON.stringify(entry)}`;
  });
  const known = lines.length === 0 ? "[]" : `[${lines.join(",")}\n  ]`;
  const content = `${START}${BASELINE_VERSION},\n  "known": ${known}\n}\n`;
  written(() => writeAnswer({ path, content, isOurs: (start) => start.startsWith(START), force }));
}

/** Reads a baseline. Throws `Failure` for a file that is not there or is none, and says what is wrong with it. */
export function readBaseline(path: string): BaselineEntry[] {
  const text = readText(path);
  if (text === undefined) throw new Failure(`${path} is not there or may not be read; make it with --write-baseline`);
  const data = readJson(text);
  if (!isRecord(data) || !("baseline" in data)) {
    throw new Failure(`${path} is no baseline; one begins with { "baseline": ${BASELINE_VERSION} and is made with --write-baseline`); // prettier-ignore
  }
  if (data.baseline !== BASELINE_VERSION) {
    throw new Failure(`${path} is a baseline of version ${JSON.stringify(data.baseline)}; this program reads version ${BASELINE_VERSION}: make it anew with --write-baseline`); // prettier-ignore
  }
  if (!Array.isArray(data.known)) throw new Failure(`${path}: \`known\` must be a list of findings`);
  return data.known.map((entry: unknown, i) => readEntry(entry, `${path}: item ${i + 1} of \`known\``));
}

function readEntry(entry: unknown, where: string): BaselineEntry {
  const { path, code, element, count = 1 } = isRecord(entry) ? entry : {};
  if (typeof path !== "string" || typeof code !== "string" || typeof element !== "string") {
    throw new Failure(`${where} must have the texts \`path\`, \`code\` and \`element\``);
  }
  if (typeof count !== "number" || !Number.isInteger(count) || count < 1) {
    throw new Failure(`${where}: \`count\` is ${JSON.stringify(count)}; it must be a whole number from 1`);
  }
  return { path, code, element, count };
}
