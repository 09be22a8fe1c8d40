import type { Span } from "../../../core/base/span.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import type { MoveDocument, NotRetimed, Retimed } from "../../../core/edit/times/retime-text.ts";
import type { Fit } from "../../../core/motion/retime-fit.ts";
import { entryOf } from "../../../core/syntax/tree.ts";
import { findingsTouching, type Touched } from "./fixes.ts";
import { isOfAxisLimit } from "./stretch-search.ts";
import type { View } from "../view.ts";

/** Where a retiming is offered: as the cure of findings, or on the name `keys`. */
export type RetimeReason = "findings" | "keys";

/** Ways to retime that are offered, before it is known what they come to. */
export interface RetimeOffer {
  readonly fit: Fit;
  readonly reason: RetimeReason;
  /** The findings that it is to cure. */
  readonly findings: readonly Touched[];
}

/** What is offered at a place of a move that is solved at its newest text. */
export function retimeOffers(view: View, span: Span): readonly RetimeOffer[] {
  if (!documentToRetime(view)) return [];
  const findings = findingsTouching(view, span).filter(({ finding }) => isOfAxisLimit(finding) && !finding.allowed);
  if (0 < findings.length) {
    return (["whole", "segments"] as const).map((fit) => ({ fit, reason: "findings", findings }));
  }
  const name = entryOf(view.tree.root, "keys")?.nameSpan;
  const onKeys = name !== undefined && name.start <= span.end && span.start <= name.end;
  const fits: readonly Fit[] = onKeys ? ["whole", "segments", "fastest"] : [];
  return fits.map((fit) => ({ fit, reason: "keys", findings: [] }));
}

/** The document of a view as it is retimed; `undefined` for one that is not solved as it stands. */
export function documentToRetime({ file, text, tree, sources, analysis, solved }: View): MoveDocument | undefined {
  if (!solved || solved.stale || !analysis.trajectory) return undefined;
  return { file, text, tree, sources, analysis };
}

/**
 * The title of an offer, with its outcome where that is known; `undefined` where it would change nothing or cannot be done.
 *
 * @param before Duration of the move as it stands [s].
 */
export function retimeTitle(
  { fit, reason }: RetimeOffer,
  before: number,
  known: Retimed | NotRetimed | undefined,
): string | undefined {
  if (!known) return UNSOLVED[reason][fit];
  if (known.status !== "retimed" || !("text" in known.written) || known.written.edits.length === 0) return undefined;
  const [was, is] = [before, known.trajectory.duration].map((time) => formatQuantity(time, "time"));
  const left = known.fresh.length === 0 ? "" : ` (${known.fresh.length} new of other kinds)`;
  return SOLVED[reason][fit](was, is) + left + boundOf(known);
}

const UNSOLVED: Readonly<Record<RetimeReason, Readonly<Record<Fit, string>>>> = {
  findings: {
    whole: "Stretch the whole move until every axis stays within its limits",
    segments: "Fit every segment to the limits of its axes",
    fastest: "Retime the move as fast as it goes",
  },
  keys: {
    whole: "Retime the whole move by one factor, to its limits",
    segments: "Retime every segment to its limits",
    fastest: "Retime the move as fast as it goes",
  },
};

type Sentence = (was: string, is: string) => string;

const SOLVED: Readonly<Record<RetimeReason, Readonly<Record<Fit, Sentence>>>> = {
  findings: {
    whole: (was, is) => `Stretch the whole move from ${was} to ${is}: every axis then stays within its limits`,
    segments: (was, is) => `Fit every segment to the limits of its axes: the move's ${was} become ${is}`,
    fastest: (was, is) => `Retime the move as fast as it goes: ${was} become ${is}`,
  },
  keys: {
    whole: (was, is) => `Retime the whole move by one factor: ${was} become ${is}`,
    segments: (was, is) => `Retime every segment to its limits: ${was} become ${is}`,
    fastest: (was, is) => `Retime the move as fast as it goes: ${was} become ${is}`,
  },
};

function boundOf(known: Retimed): string {
  const bound = known.fitted.least?.lowerBound;
  return bound === undefined ? "" : ` (lower bound ${formatQuantity(bound, "time")})`;
}
