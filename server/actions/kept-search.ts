import type { Task } from "../../core/base/task.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import { inTime } from "../patience.ts";
import type { Urgency } from "../scheduler.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";

/** How long an answer waits for a search; what is found later is there for the next one [ms]. */
const PATIENCE_MS = 1500;

/** What a search came to; absent while it goes on, for a text that is not the newest any more, and where it failed. */
export type Known<T> = { readonly found: T } | undefined;

/** A search that is made once for each analysis and name: editors ask at every move of the cursor. */
export interface KeptSearch<Name, T> {
  /** What is known by the time that an answer can wait. */
  soon(view: View, name: Name): Promise<Known<T>>;
  /** What it comes to, however long that takes. */
  whole(view: View, name: Name): Promise<Known<T>>;
}

export function createKeptSearch<Name, T>(
  session: Session,
  urgency: Urgency,
  search: (view: View, name: Name) => Task<T>,
): KeptSearch<Name, T> {
  const begun = new WeakMap<Analysis, Map<Name, Promise<Known<T>>>>();

  const run = async (view: View, name: Name): Promise<Known<T>> => {
    const stillNew = () => session.analyses.current(view.file)?.analysis === view.analysis;
    const outcome = await session.run(search(view, name), urgency, stillNew);
    if (outcome.state === "failed") session.log(`A search for cures failed: ${String(outcome.error)}`);
    return outcome.state === "done" ? { found: outcome.value } : undefined;
  };

  const whole = (view: View, name: Name): Promise<Known<T>> => {
    const known = begun.get(view.analysis) ?? new Map<Name, Promise<Known<T>>>();
    begun.set(view.analysis, known);
    const searching = known.get(name) ?? run(view, name);
    known.set(name, searching);
    return searching;
  };

  return {
    whole,
    soon(view, name) {
      return inTime(whole(view, name), PATIENCE_MS);
    },
  };
}
