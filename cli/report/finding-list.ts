import type { FileId } from "../../core/base/span.ts";
import type { CheckedFinding } from "../../core/exchange/checked-document.ts";
import { words } from "./page-shell.ts";

/** Findings with their places and what may cure them, as HTML. */
export function findingList(findings: readonly CheckedFinding[], nameOf: (file: FileId) => string): string {
  if (findings.length === 0) return "<p>No findings.</p>";
  return `<ul>\n${findings.map((one) => `<li>${item(one, nameOf)}</li>`).join("\n")}\n</ul>`;
}

function item(finding: CheckedFinding, nameOf: (file: FileId) => string): string {
  const { severity, code, message, file, range, allowed, cures, related } = finding;
  const at = (of: FileId, line: number): string => `<code>${words(`${nameOf(of)}:${line + 1}`)}</code>`;
  const tone = severity === "error" || severity === "warning" ? severity : "quiet";
  const parts = [
    `<span class="review-${tone}">${severity}</span> ${at(file, range.start.line)} <code>${code}</code> ${words(message)}`,
    ...(allowed === undefined ? [] : [`Allowed: ${words(allowed)}`]),
    ...related.map((one) => `${at(one.file, one.range.start.line)} ${words(one.message)}`),
    ...cures.map(({ title }) => `To do: ${words(title)}`),
  ];
  return parts.join("<br>");
}

/** How many there are that nobody allowed: `2 errors, 1 warning`. */
export function countedFindings(findings: readonly CheckedFinding[]): string {
  const counts = (["error", "warning"] as const).flatMap((severity) => {
    const count = findings.filter((one) => one.severity === severity && one.allowed === undefined).length;
    return count === 0 ? [] : [`<span class="review-${severity}">${count} ${severity}${count === 1 ? "" : "s"}</span>`];
  });
  return counts.length === 0 ? "none" : counts.join(", ");
}
