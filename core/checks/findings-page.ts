import { DOCUMENT_CODES, MOTION_CODES, type FindingCode } from "../base/finding-code.ts";
import { CATALOGUE } from "./catalogue.ts";

/** The reference page of all findings as Markdown; written to `docs/reference/findings.md` by the generator. */
export function renderFindingsPage(): string {
  return [
    "# Findings",
    "",
    "<!-- Generated from core/checks/catalogue.ts by `npm run generate`. Do not edit. -->",
    "",
    "What `movewright check` and the editor report. A finding of the motion can be allowed with its reason:",
    "`allow: [{ code: axis-speed, reason: rehearsed at full speed }]` on a key or the document, or in YAML the comment",
    "`# allow axis-speed: rehearsed at full speed` in the key. An allowed finding stays visible as a hint and no longer",
    "counts as an error.",
    "",
    "## Motion",
    "",
    ...MOTION_CODES.flatMap(section),
    "## Documents",
    "",
    ...DOCUMENT_CODES.flatMap(section),
  ].join("\n");
}

function section(code: FindingCode): string[] {
  const row = CATALOGUE[code];
  return [`### ${code}`, "", `${row.title}. Severity: ${row.severity}.`, "", row.doc, "", `Cure: ${row.cure}`, ""];
}
