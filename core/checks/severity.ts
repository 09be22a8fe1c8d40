import type { Severities } from "../model/resolve-config.ts";
import type { PlacedFinding } from "./finding.ts";

/** Findings as the configs of a workspace want them: allowed ones stay hints, those that are off are left out. */
export function applySeverities(findings: readonly PlacedFinding[], severities: Severities): readonly PlacedFinding[] {
  if (severities.size === 0) return findings;
  return findings.flatMap((finding): PlacedFinding[] => {
    const severity = severities.get(finding.code);
    if (severity === undefined) return [finding];
    if (severity === "off") return [];
    return [finding.allowed === undefined ? { ...finding, severity } : finding];
  });
}
