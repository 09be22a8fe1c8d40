import type { Analysis } from "../core/checks/analysis.ts";
import { isOfSpace } from "./service/clear-ground.ts";
import { findClearings, type Clearing } from "./service/clear-search.ts";
import { findingsOf, type View } from "./service/view.ts";
import type { Session } from "./session.ts";

/** How long an offer waits for the search; what is found later is there for the next one [ms]. */
const PATIENCE_MS = 1500;

export interface Clearings {
  /** What is offered for a finding of a solved move; `undefined` for one that no other place of the rig can cure. */
  offers(view: View, id: number): Promise<readonly Clearing[]> | undefined;
}

export function createClearings(session: Session): Clearings {
  // Editors ask at every move of the cursor: each finding is searched for once in an analysis.
  const begun = new WeakMap<Analysis, Map<number, Promise<readonly Clearing[]>>>();

  const search = async (view: View, id: number): Promise<readonly Clearing[]> => {
    const stillNew = () => session.analyses.current(view.file)?.analysis === view.analysis;
    // Many plans of the move: whatever else is asked for goes before it.
    const outcome = await session.run(findClearings(view, findingsOf(view.analysis)[id]), "background", stillNew);
    if (outcome.state === "failed") throw outcome.error;
    return outcome.state === "done" ? outcome.value : [];
  };

  return {
    offers(view, id) {
      if (!isOfSpace(findingsOf(view.analysis)[id])) return undefined;
      const known = begun.get(view.analysis) ?? new Map<number, Promise<readonly Clearing[]>>();
      begun.set(view.analysis, known);
      const searching = known.get(id) ?? search(view, id);
      known.set(id, searching);
      const patience = new Promise<readonly Clearing[]>((resolve) => setTimeout(() => resolve([]), PATIENCE_MS));
      return Promise.race([searching, patience]);
    },
  };
}
