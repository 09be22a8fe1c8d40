import type { PlacedFinding } from "../core/checks/finding.ts";
import { indexLines } from "../core/syntax/lines.ts";
import { plain, type Paint } from "./paint.ts";

/** One line a finding: `file:line:column: severity code message`, line and column counted from 1. */
export function describeFindings(
  path: string,
  text: string,
  findings: readonly PlacedFinding[],
  paint: Paint = plain,
): string[] {
  const lines = indexLines(text);
  return findings.map(({ place, severity, code, message, allowed }) => {
    const { line, character } = lines.position(place.span.start);
    const reason = allowed === undefined ? "" : paint("quiet", ` (allowed: ${allowed})`);
    const style = severity === "error" || severity === "warning" ? severity : "quiet";
    const label = `${paint(style, severity)} ${paint("strong", code)}`;
    return `${path}:${line + 1}:${character + 1}: ${label} ${message}${reason}`;
  });
}
