import type { DocumentCode, Severity } from "../base/finding-code.ts";
import type { Problem, TextCure } from "../base/problem.ts";
import type { FileId, Span } from "../base/span.ts";

/** Most findings of one document that are kept; then one says that there are more. */
export const MAX_PROBLEMS = 1_000;

/** Collects the problems of one file. */
export interface Reporter {
  readonly file: FileId;
  readonly text: string;
  readonly format: "yaml" | "json";
  readonly problems: Problem[];
}

export interface ProblemExtras {
  readonly severity?: Severity;
  readonly key?: string;
  readonly axis?: string;
  readonly related?: Problem["related"];
  readonly cures?: readonly TextCure[];
}

export function report(
  to: Reporter,
  code: DocumentCode,
  span: Span,
  message: string,
  extras: ProblemExtras = {},
): void {
  const { severity = "error", ...rest } = extras;
  addProblem(to, {
    code,
    severity,
    place: { file: to.file, span: { start: span.start, end: span.end } },
    message,
    ...rest,
  });
}

/** Keeps a problem that is placed already. */
export function addProblem(to: Reporter, problem: Problem): void {
  if (to.problems.length > MAX_PROBLEMS) return;
  if (to.problems.length < MAX_PROBLEMS) to.problems.push(problem);
  else {
    const { place } = problem;
    const more = `More than ${MAX_PROBLEMS} findings: those that follow are not shown.`;
    to.problems.push({ code: "too-large", severity: "error", place, message: more });
  }
}

/** True once nothing more is kept, so that reading on is in vain. */
export const isFull = (to: Reporter): boolean => to.problems.length > MAX_PROBLEMS;

/** Text as a value of the document: quoted where the format or the text itself asks for it. */
export function spell(format: "yaml" | "json", text: string): string {
  const plain =
    /^[A-Za-z_./][\w ./#°%+-]*$/.test(text) && !/^(true|false|null|~)$/i.test(text) && !/\s#|\s$/.test(text);
  const number = /^-?(0|[1-9]\d*)(\.\d+)?$/.test(text);
  const quantity = /^-?\d[\w. %/;:-]*$/.test(text) && !text.includes(": ") && !text.endsWith(":");
  if (format === "json") return number ? text : JSON.stringify(text);
  return plain || number || quantity ? text : JSON.stringify(text);
}

/** A cure that puts `text` in the place of the value or name at `span`, quotes of the text kept. */
export function replacement(to: Reporter, span: Span, text: string): TextCure {
  const quote = to.text[span.start];
  const quoted = quote === '"' || (quote === "'" && !text.includes("'"));
  const written = quoted
    ? quote + (quote === '"' ? JSON.stringify(text).slice(1, -1) : text) + quote
    : spell(to.format, text);
  return {
    title: `Write \`${text}\``,
    file: to.file,
    edits: [{ span: { start: span.start, end: span.end }, text: written }],
  };
}
