import type { MoveReview, Review } from "../review/review.ts";
import { counted } from "./review-figures.ts";
import { joined, plain, toned, type Line } from "./review-outline.ts";
import { newOnes } from "./review-weight.ts";

/** What a change comes to in one line: `3 moves changed, 1 has new errors; no motion change in 4`. */
export function summaryLine({ moves, documents }: Review): Line {
  if (moves.length + documents.length === 0) return [plain("nothing changed in documents")];
  const count = (isMeant: (move: MoveReview) => boolean): number => moves.filter(isMeant).length;
  const changed = count(({ state, motion }) => state === "both" && motion === "changed");
  const unknown = count(({ state, motion }) => state === "both" && motion === "unknown");
  const same = count(({ state, motion }) => state === "both" && motion === "same");
  const [added, removed] = (["added", "removed"] as const).map((state) => count((move) => move.state === state));
  const parts: Line[] = [
    ...(changed > 0 ? [[toned("strong", `${counted(changed, "move")} changed`)]] : []),
    ...(added > 0 ? [[toned("strong", `${counted(added, "move")} added`)]] : []),
    ...(removed > 0 ? [[toned("strong", `${counted(removed, "move")} removed`)]] : []),
    ...(unknown > 0 ? [[toned("error", `${counted(unknown, "move")} can't be compared`)]] : []),
  ];
  parts.push(...newFindings(moves, documents, changed));
  return joined([...(parts.length > 0 ? [joined(parts)] : []), ...unchanged(same, moves.length)], "; ");
}

/** Where more moves have findings than `changed` ones are told before, it has to be said that they are moves. */
function newFindings(moves: Review["moves"], documents: Review["documents"], changed: number): Line[] {
  const moveErrors = moves.some(({ findings }) => newOnes(findings, "error").length > 0);
  const words = (severity: "error" | "warning"): Line[] => {
    const having = moves.filter(({ findings }) => newOnes(findings, severity).length > 0).length;
    const others = documents.filter(({ findings }) => newOnes(findings, severity).length > 0).length;
    const hasNoun = having > changed && (severity === "error" || !moveErrors);
    const verb = (count: number): string =>
      `${hasNoun ? counted(count, "move") : count} ${count === 1 ? "has" : "have"} new ${severity}s`;
    return [
      ...(having > 0 ? [[toned(severity, verb(having))]] : []),
      ...(others > 0 ? [[toned(severity, `new ${severity}s in ${counted(others, "other document")}`)]] : []),
    ];
  };
  return [...words("error"), ...words("warning")];
}

function unchanged(same: number, all: number): Line[] {
  if (same === 0) return all === 0 ? [[plain("no move is touched")]] : [];
  if (same < all) return [[toned("good", `no motion change in ${same}`)]];
  return [[toned("good", same === 1 ? "no motion change" : `no motion change in ${counted(same, "move")}`)]];
}
