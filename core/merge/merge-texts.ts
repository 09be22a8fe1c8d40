import type { FileId } from "../base/span.ts";
import { documentKind } from "../model/document-kind.ts";
import { parseTree } from "../syntax/parse.ts";
import { undress } from "./line-ends.ts";
import { mergeLines, wholeClash } from "./line-merge.ts";
import { mergeMeaning, type Unmerged } from "./merge-meaning.ts";
import { countClashes, renderRegions, type Marks, type Region } from "./regions.ts";
import type { Three } from "./sides.ts";

export interface MergedTexts {
  readonly text: string;
  /** Conflicts that are left in it. */
  readonly conflicts: number;
  /** Why it was merged by lines and not by what it says, as a sentence without its full stop. */
  readonly byLines?: string;
}

/**
 * Merges two changes of one document. A side that is as it was gives the other one byte for byte. Never throws.
 *
 * @param file  By whose name the kind of the document is known.
 * @param texts `base` is absent, or empty, where both sides added the document.
 */
export function mergeTexts(file: FileId, texts: Three<string>, marks: Marks): MergedTexts {
  const { base, ours, theirs } = texts;
  if (ours === theirs || theirs === base) return { text: ours, conflicts: 0 };
  if (ours === base) return { text: theirs, conflicts: 0 };
  const { texts: plain, dress } = undress({ base: base === "" ? undefined : base, ours, theirs });
  const known = documentKind(file);
  const merged = known
    ? mergeMeaning(plain, known)
    : { reason: "by its name the file is none of a rig, a camera, a set, a move or a shoot" };
  const regions = "regions" in merged ? merged.regions : lineRegions(plain, merged, known?.format);
  const text = dress(renderRegions(regions, marks), "ours" in (regions[regions.length - 1] ?? {}));
  const conflicts = countClashes(regions);
  return "reason" in merged ? { text, conflicts, byLines: merged.reason } : { text, conflicts };
}

/** By lines; all of it a conflict where lines alone would pass over one, or make a text that cannot be read. */
function lineRegions(
  plain: Three<string>,
  { isConflict, isSound }: Unmerged,
  format: "yaml" | "json" | undefined,
): Region[] {
  const regions = mergeLines(plain);
  if (countClashes(regions) > 0) return regions;
  const text = regions.map((one) => ("text" in one ? one.text : "")).join("");
  const isBroken = format !== undefined && isSound === true && parseTree(text, format).problems.length > 0;
  return isConflict === true || isBroken ? wholeClash(plain) : regions;
}
