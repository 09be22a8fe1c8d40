import type { Span } from "../../core/base/span.ts";
import { trimmed } from "../../core/base/units.ts";
import { worstShare } from "./key-table.ts";
import { findingsOf, type View } from "./view.ts";

/** A line above the move that opens its stage. */
export interface Lens {
  readonly title: string;
  readonly span: Span;
}

/** One lens at the beginning of a move: opens the stage and says how near the move comes to a limit. */
export function lensesOf(view: View): readonly Lens[] {
  if (view.kind !== "move" || view.tree.root?.kind !== "map") return [];
  const first = view.tree.root.entries[0];
  return first ? [{ title: ["Open stage", ...facts(view)].join(", "), span: first.nameSpan }] : [];
}

function facts({ analysis, solved }: View): string[] {
  const errors = findingsOf(analysis).filter(({ severity }) => severity === "error").length;
  const count = errors === 0 ? [] : [errors === 1 ? "1 error" : `${errors} errors`];
  if (!solved || solved.stale) return count;
  const { trajectory } = solved;
  const worst = worstShare(trajectory, 0, trajectory.duration);
  const length = `${trimmed(trajectory.duration, 2)} s`;
  const of = ["speed", "acceleration", "jerk"];
  const peak =
    worst && Number.isFinite(worst.share)
      ? [`${Math.round(worst.share * 100)} % of the ${of[worst.order - 1]} limit of ${worst.axis.name}`]
      : [];
  return [length, ...peak, ...count];
}
