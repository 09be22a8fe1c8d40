import type { FindingCode, Severity } from "../base/finding-code.ts";
import { CATALOGUE } from "../checks/catalogue.ts";
import type { CatalogueRow } from "../checks/catalogue/row.ts";
import { BREAKS } from "./check-report.ts";
import { familyOf } from "./finding-family.ts";

/** What is told of a change that breaks documents which it does not touch. */
export const BREAKS_ROW: CatalogueRow = {
  title: "A change breaks moves that it does not touch",
  doc: "With `--since`, a line of a rig, a camera, a set, a configuration or a file that they name was changed, and moves whose own text is as it was have new findings by it. Hosts show findings on changed lines only, so this one stands there; the findings of the moves are its related places.",
  cure: "Take the change back, or mend the moves that are named.",
  severity: "error",
};

const LEVELS = { error: "error", warning: "warning", information: "note", hint: "note" } as const;

export const levelOf = (severity: Severity): "error" | "warning" | "note" => LEVELS[severity];

/** How a host ranks what is no security problem. */
const PROBLEM = { error: "error", warning: "warning", information: "recommendation", hint: "recommendation" } as const;

/**
 * The rule of a code, as hosts explain it beside a result.
 *
 * @param helpPage Address of the page of all findings; each has a heading there.
 */
export function ruleOf(code: FindingCode | typeof BREAKS, helpPage: string | undefined): Record<string, unknown> {
  const row = code === BREAKS ? BREAKS_ROW : CATALOGUE[code];
  return {
    id: code,
    name: code.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase()),
    shortDescription: { text: row.title },
    fullDescription: { text: row.doc },
    help: {
      text: `${row.doc}\n\nCure: ${row.cure}`,
      markdown: `**${row.title}.**\n\n${row.doc}\n\n**Cure:** ${row.cure}`,
    },
    ...(helpPage === undefined ? {} : { helpUri: code === BREAKS ? helpPage : `${helpPage}#${code}` }),
    defaultConfiguration: { level: levelOf(row.severity) },
    properties: {
      tags: code === BREAKS ? ["review"] : [familyOf(code)],
      "problem.severity": PROBLEM[row.severity],
    },
  };
}
