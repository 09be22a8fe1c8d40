import type { Task } from "../core/base/task.ts";
import type { Analysis } from "../core/checks/analysis.ts";
import type { Urgency } from "./scheduler.ts";
import type { View } from "./service/view.ts";
import type { Session } from "./session.ts";

/** How long an answer waits for a search; what is found later is there for the next one [ms]. */
const PATIENCE_MS = 1500;

/**
 * A search that is made once for each analysis and name: editors ask at every move of the cursor. What it finds is
 * `undefined` while it goes on, and for a text that is not the newest any more.
 */
export function createKeptSearch<Name, T>(
  session: Session,
  urgency: Urgency,
  search: (view: View, name: Name) => Task<T>,
): (view: View, name: Name) => Promise<T | undefined> {
  const begun = new WeakMap<Analysis, Map<Name, Promise<T | undefined>>>();

  const run = async (view: View, name: Name): Promise<T | undefined> => {
    const stillNew = () => session.analyses.current(view.file)?.analysis === view.analysis;
    const outcome = await session.run(search(view, name), urgency, stillNew);
    if (outcome.state === "failed") session.log(`A search for cures failed: ${String(outcome.error)}`);
    return outcome.state === "done" ? outcome.value : undefined;
  };

  return (view, name) => {
    const known = begun.get(view.analysis) ?? new Map<Name, Promise<T | undefined>>();
    begun.set(view.analysis, known);
    const searching = known.get(name) ?? run(view, name);
    known.set(name, searching);
    const patience = new Promise<undefined>((resolve) => setTimeout(() => resolve(undefined), PATIENCE_MS));
    return Promise.race([searching, patience]);
  };
}
