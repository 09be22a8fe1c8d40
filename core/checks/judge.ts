import { applyAllows } from "./allow.ts";
import type { Analysis } from "./analysis.ts";
import type { PlacedFinding } from "./finding.ts";
import { applySeverities } from "./severity.ts";
import type { TextStep } from "./text-step.ts";

/** All findings of a document after what it allows and what the configs above it say. */
export function judge(
  { analysis, allows, severities }: TextStep,
  textFindings: readonly PlacedFinding[],
  motionFindings: readonly PlacedFinding[],
): Pick<Analysis, "textFindings" | "motionFindings"> {
  const { findings, faults } = applyAllows(analysis.file, allows, [...textFindings, ...motionFindings], true);
  const count = textFindings.length;
  return {
    textFindings: applySeverities([...findings.slice(0, count), ...faults], severities),
    motionFindings: applySeverities(findings.slice(count), severities),
  };
}
