import { pathText } from "./snippet-place.ts";
import { SNIPPETS } from "./snippets.ts";
import type { AskedPlace, Proposal } from "./proposal.ts";

/** Whole items of lists and entries of maps that may begin at the cursor: a key, a pass, a target and so on. */
export function snippetProposals(asked: AskedPlace): readonly Proposal[] {
  const { cursor, place, view } = asked;
  if (cursor.inQuotes || cursor.hasColon) return [];
  const where = pathText(asked);
  if (where === undefined) return [];
  const isFresh = cursor.role === "value" || cursor.siblings.length === 0 || place.shape.kind === "record";
  if (!isFresh) return [];
  const own = SNIPPETS.filter(({ kind, at }) => kind === view.kind && at === where);
  return own.flatMap(({ label, doc, show }): Proposal[] => {
    const shown = show(asked);
    return shown ? [{ label, kind: "snippet", doc, detail: "a snippet", rank: 2, shown }] : [];
  });
}
