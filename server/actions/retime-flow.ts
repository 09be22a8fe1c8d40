import { CodeActionKind, type Connection } from "vscode-languageserver";
import { retimeText, type NotRetimed, type Retimed } from "../../core/edit/times/retime-text.ts";
import type { Fit } from "../../core/motion/retime-fit.ts";
import type { ActionSource, EditOf, OfferedAction } from "./action-source.ts";
import { inTime } from "../patience.ts";
import type { Urgency } from "../scheduler.ts";
import { documentToRetime, retimeOffers, retimeTitle } from "../service/cures/retime-actions.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { tell } from "../tell.ts";
import { shownDiagnostic } from "../diagnostics/shown-diagnostic.ts";

/** A move of so many keys at most is solved before it is offered; others when they are asked for. */
const KEYS_BEFOREHAND = 12;
/** How long an offer waits for that; what comes later is there for the next one [ms]. */
const PATIENCE_MS = 400;

type Outcome = Retimed | NotRetimed | undefined;

/** New times for the whole move: as the cure of findings, or where the name `keys` stands. */
export function createRetimings(connection: Connection, session: Session, editOf: EditOf): ActionSource<Fit> {
  // Editors ask at every move of the cursor: each move is solved once for each analysis.
  const begun = new WeakMap<object, Map<Fit, Promise<Outcome>>>();

  const solve = (view: View, fit: Fit, urgency: Urgency): Promise<Outcome> => {
    const known = begun.get(view.analysis) ?? new Map<Fit, Promise<Outcome>>();
    begun.set(view.analysis, known);
    const solving = known.get(fit) ?? run(session, view, fit, urgency);
    known.set(fit, solving);
    return solving;
  };

  /** What is known by the time that an offer can wait. */
  const beforehand = async (view: View, fit: Fit): Promise<Outcome> => {
    // One factor takes a plan or two, whatever the move.
    if (fit === "whole") return solve(view, fit, "asked");
    const known = begun.get(view.analysis)?.has(fit) === true;
    if (!known && KEYS_BEFOREHAND < (view.solved?.move.keys.length ?? 0)) return undefined;
    return inTime(solve(view, fit, "background"), PATIENCE_MS);
  };

  return {
    async actions({ view, document, span, wants }) {
      const actions: OfferedAction<Fit>[] = [];
      for (const offer of retimeOffers(view, span)) {
        const kind = offer.reason === "findings" ? CodeActionKind.QuickFix : CodeActionKind.RefactorRewrite;
        if (!wants(kind)) continue;
        const known = await beforehand(view, offer.fit);
        // Without a second question there is no time to find what is not known yet.
        if (!known && !session.client.resolvesActionEdits) continue;
        const title = retimeTitle(offer, view.solved?.trajectory.duration ?? 0, known);
        if (title === undefined) continue;
        const diagnostics = offer.findings.map(({ finding }) => shownDiagnostic(session, view, document, finding));
        const action = { title, kind, ...(diagnostics.length > 0 ? { diagnostics } : {}) };
        actions.push({ ref: offer.fit, action });
      }
      return actions;
    },
    async edit(view, fit, tells) {
      const retimed = await solve(view, fit, "asked");
      if (!retimed) return undefined;
      const written = retimed.status === "retimed" ? retimed.written : retimed;
      if ("edits" in written) return editOf(view.file, written.edits);
      if (tells === "tells") tell(connection, session, written.reason);
      return undefined;
    },
  };
}

async function run(session: Session, view: View, fit: Fit, urgency: Urgency): Promise<Outcome> {
  const document = documentToRetime(view);
  if (!document) return undefined;
  const stillNew = () => session.analyses.current(view.file)?.analysis === view.analysis;
  const outcome = await session.run(retimeText(document, fit), urgency, stillNew);
  if (outcome.state === "failed") throw outcome.error;
  return outcome.state === "done" ? outcome.value : undefined;
}
