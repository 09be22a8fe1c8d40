import { plainWords } from "../base/plain-words.ts";
import type { Severity } from "../base/finding-code.ts";
import type { TextRange } from "./checked-document.ts";
import { BREAKS, breakingMessage, counts, type CheckReport } from "./check-report.ts";

/** Annotations of one level that a host shows of a step. */
export const MOST_A_LEVEL = 10;

type Level = "error" | "warning" | "notice";

const LEVELS: Readonly<Partial<Record<Severity, Level>>> = {
  error: "error",
  warning: "warning",
  information: "notice",
};

interface Annotation {
  readonly level: Level;
  /** Absent for one that is about no file of the repository. */
  readonly place?: { readonly file: string; readonly range: TextRange };
  readonly title: string;
  readonly message: string;
}

/**
 * What counts as workflow commands, one a line: errors first, then warnings and notices, ten of each; the last of ten tells
 * how many more there are. Hints, and what is allowed or known, are none.
 */
export function renderAnnotations(report: CheckReport): string {
  const all = annotationsOf(report);
  const lines = (["error", "warning", "notice"] as const).flatMap((level) => {
    const some = all.filter((one) => one.level === level);
    if (some.length <= MOST_A_LEVEL) return some;
    const left = some.length - (MOST_A_LEVEL - 1);
    return [...some.slice(0, MOST_A_LEVEL - 1), { level, title: "Movewright", message: `+${left} more ${level}s` }];
  });
  return lines.map((one) => `${commandOf(one)}\n`).join("");
}

/** Changes that break moves stand first: they are on lines that a host shows. */
function annotationsOf(report: CheckReport): Annotation[] {
  const placed = (file: string, range: TextRange): Pick<Annotation, "place"> => {
    const name = report.nameOf(file);
    return /^(?:\/|[A-Za-z]:\/)/.test(name) ? {} : { place: { file: name, range } };
  };
  const changes = report.breaking.map((change) => ({
    level: change.severity,
    ...placed(change.file, change.range),
    title: BREAKS,
    message: breakingMessage(change, report),
  }));
  const findings = report.documents
    .flatMap((document) => document.findings)
    .filter(counts)
    .flatMap(({ severity, file, range, code, message }) => {
      const level = LEVELS[severity];
      return level === undefined ? [] : [{ level, ...placed(file, range), title: code, message }];
    });
  return [...changes, ...findings];
}

function commandOf({ level, place, title, message }: Annotation): string {
  const properties = [...(place ? placeProperties(place) : []), ["title", title]];
  const written = properties.map(([name, value]) => `${name}=${property(String(value))}`).join(",");
  return `::${level} ${written}::${data(plainWords(message))}`;
}

/** Lines and columns from 1. Columns are given of one line alone: a host takes none of more. */
function placeProperties({
  file,
  range: { start, end },
}: NonNullable<Annotation["place"]>): [string, string | number][] {
  const columns: [string, number][] =
    start.line === end.line ? [["col", start.character + 1], ["endColumn", Math.max(end.character, start.character + 1)]] : []; // prettier-ignore
  return [["file", file], ["line", start.line + 1], ["endLine", end.line + 1], ...columns];
}

/** Text behind the second `::`. */
const data = (text: string): string => text.replaceAll("%", "%25").replaceAll("\r", "%0D").replaceAll("\n", "%0A");

/** Text of a property. A name of a file is taken as it is, so it isn't made plain. */
const property = (text: string): string => data(text).replaceAll(":", "%3A").replaceAll(",", "%2C");
