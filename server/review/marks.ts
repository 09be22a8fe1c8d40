import type { FileId } from "../../core/base/span.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { createSeen } from "../../core/checks/seen.ts";
import { reviewKeys } from "../../core/review/keys/review-keys.ts";
import { sameNames } from "../../core/review/match-names.ts";
import { reviewFindings } from "../../core/review/review-findings.ts";
import type { ReviewSide } from "../../core/review/review-side.ts";
import type { Tree } from "../../core/syntax/tree.ts";
import { hash } from "../fingerprint.ts";

/** Which findings of a document the base did not have. */
export interface FileMarks {
  /** What the base is called. */
  readonly label: string;
  /** Stands for all that they depend on but the document itself. */
  readonly stamp: string;
  /** Those of an analysis that are new. */
  newOf(analysis: Analysis, text: string, tree: Tree): ReadonlySet<PlacedFinding>;
}

/** Findings of the base, by the documents of now, as far as they were looked at. */
export interface Marks {
  /** @param fingerprint Stands for all texts of the side. */
  learn(file: FileId, before: ReviewSide, fingerprint: string): void;
  of(file: FileId): FileMarks | undefined;
  /** Calls `listener` when what is known of a document is another now. */
  onLearned(listener: () => void): void;
}

export function createMarks(label: string): Marks {
  const known = new Map<FileId, FileMarks>();
  let tell = (): void => undefined;
  return {
    learn(file, before, fingerprint) {
      const stamp = hash(`${label}\n${fingerprint}`);
      if (known.get(file)?.stamp === stamp) return;
      known.set(file, { label, stamp, newOf: newSince(slim(before)) });
      tell();
    },
    of: (file) => known.get(file),
    onLearned: (listener) => void (tell = listener),
  };
}

/** Without the motion, which would fill the memory. */
const slim = ({ analysis, ...side }: ReviewSide): ReviewSide => ({
  ...side,
  analysis: { ...analysis, trajectory: undefined },
  seen: createSeen(),
});

/** A list of findings is asked about several times. */
function newSince(before: ReviewSide): FileMarks["newOf"] {
  const answers = new WeakMap<Analysis, ReadonlySet<PlacedFinding>>();
  return (analysis, text, tree) => {
    const known = answers.get(analysis);
    if (known) return known;
    const after: ReviewSide = { analysis, text, tree, seen: before.seen };
    const names = sameNames(before.analysis.move, analysis.move, new Map());
    const { parts } = reviewKeys(before, after, names);
    const found = reviewFindings(before, after, names, parts);
    const answer = new Set(found.flatMap(({ state, finding }) => (state === "new" ? [finding] : [])));
    answers.set(analysis, answer);
    return answer;
  };
}
