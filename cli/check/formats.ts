import { renderAnnotations } from "../../core/exchange/annotations.ts";
import type { CheckReport } from "../../core/exchange/check-report.ts";
import { renderMarkdown } from "../../core/exchange/findings-markdown.ts";
import { renderJunit } from "../../core/exchange/junit.ts";
import type { Paint } from "../paint.ts";
import { failingSeverities, type Strictness } from "./check-failing.ts";
import { renderAnswer } from "./check-json.ts";
import { renderText } from "./check-text.ts";
import { fittingSarif } from "./fit-sarif.ts";

export const CHECK_FORMATS = ["text", "json", "sarif", "junit", "github", "markdown"] as const;

export type CheckFormat = (typeof CHECK_FORMATS)[number];

/** What it takes to write an answer beside what was found. */
export interface FormatOptions extends Strictness {
  readonly paint: Paint;
  /** How the command line names a file: as it was given. */
  readonly pathOf: CheckReport["nameOf"];
  readonly helpPage?: string;
  /** When the check began. */
  readonly began: Date;
}

/** What was found, in a format. */
export function renderCheck(format: CheckFormat, report: CheckReport, options: FormatOptions): string {
  switch (format) {
    case "text":
      return renderText(report, options.pathOf, options.paint);
    case "json":
      return renderAnswer(report, options.pathOf);
    case "sarif":
      return fittingSarif(report, options.helpPage);
    case "junit":
      return renderJunit(report, {
        timestamp: options.began.toISOString().slice(0, 19),
        failing: failingSeverities(report, options),
      });
    case "github":
      return renderAnnotations(report);
    case "markdown":
      return renderMarkdown(report);
  }
}

/** Tells an older answer of a format by its beginning, so that no other file is written over. */
export const IS_ANSWER: Readonly<Record<CheckFormat, (start: string) => boolean>> = {
  text: (start) => /^\d+ documents? checked: |:\d+:\d+: (?:error|warning|information|hint) [a-z-]+ /m.test(start),
  json: (start) => start.startsWith('{\n  "version": ') && start.includes('"files": ['),
  sarif: (start) => start.includes('"driver":{"name":"Movewright"'),
  junit: (start) => /<testsuites>\s*<(?:testsuite id="0" package="movewright"|\/testsuites>)/.test(start),
  github: (start) => /^::(?:error|warning|notice) /.test(start),
  markdown: (start) => start.startsWith("## Movewright: "),
};
