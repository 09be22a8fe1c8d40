import { firstWhere } from "../../../core/base/bisect.ts";
import type { FindingCode } from "../../../core/base/finding-code.ts";
import type { Span } from "../../../core/base/span.ts";
import { MOTION_CODES } from "../../../core/base/finding-code.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import type { SemanticToken } from "./semantic-tokens.ts";
import type { TokenModifier, TokenType } from "./token-legend.ts";
import type { View } from "../view.ts";

/** Findings of a name or a file that leads nowhere. */
const UNRESOLVED: ReadonlySet<FindingCode> = new Set([
  "unknown-axis",
  "unknown-target",
  "unknown-lens",
  "unknown-mark",
  "unknown-field",
  "missing-file",
]);
const MOTION: ReadonlySet<FindingCode> = new Set(MOTION_CODES);
/** A finding is caused by values, not by the words that say what they are. */
const WORDS: ReadonlySet<TokenType> = new Set(["property", "keyword"]);

/** The tokens with what findings say of them, so that no colour says what no finding does. */
export function markTokens(view: View, tokens: readonly SemanticToken[]): readonly SemanticToken[] {
  const marked = [...tokens];
  const mark = (span: Span, modifier: TokenModifier, takes: (token: SemanticToken) => boolean): void => {
    for (let idx = firstFrom(tokens, span.start); idx < tokens.length && tokens[idx].start < span.end; idx += 1) {
      const token = marked[idx];
      if (takes(token)) marked[idx] = { ...token, modifiers: new Set([...token.modifiers, modifier]) };
    }
  };
  for (const { code, place } of view.analysis.textFindings) {
    if (UNRESOLVED.has(code)) mark(place.span, "unresolved", () => true);
  }
  for (const span of valuesOutOfLimit(view)) mark(span, "outOfLimit", ({ type }) => !WORDS.has(type));
  return marked;
}

/**
 * Where the values stand that cause errors of the motion. While the text is solved again, where those of the version before
 * stand now, so that colours don't come and go with each letter.
 */
export function valuesOutOfLimit({ file, text, analysis, solved }: View): readonly Span[] {
  const isError = ({ severity }: PlacedFinding): boolean => severity === "error";
  const shift = solved?.shift;
  const willSolve = shift !== undefined && !analysis.textFindings.some(isError);
  const findings = willSolve ? solved?.findings : analysis.motionFindings;
  return (findings ?? [])
    .filter((finding) => isError(finding) && MOTION.has(finding.code) && finding.place.file === file)
    .map(({ place: { span } }) =>
      willSolve ? { start: shift.toNewer(span.start), end: shift.toNewer(span.end) } : span,
    )
    .filter(({ start, end }) => start < end && !/[\r\n]/.test(text.slice(start, end)));
}

function firstFrom(tokens: readonly SemanticToken[], start: number): number {
  return firstWhere(0, tokens.length, (idx) => tokens[idx].start >= start);
}
