import type { Connection } from "vscode-languageserver";
import type { Trajectory } from "../core/motion/trajectory.ts";
import { findingsOf } from "../core/checks/analysis.ts";
import {
  SERIES,
  SERIES_REQUEST,
  type SeriesName,
  type SeriesParams,
  type StageSeries,
} from "../protocol/stage-series.ts";
import { fileOfUri } from "./files/file-uri.ts";
import { guarded } from "./guard.ts";
import { stageSeries } from "./service/stage/stage-series.ts";
import type { Session } from "./session.ts";
import { solvedAt } from "./views.ts";

/** Curves that were computed, as long as their motion lives: a comment changes none of them. */
type Known = WeakMap<Trajectory, Map<SeriesName, StageSeries>>;

/** The request for curves that are computed only when somebody looks at them. */
export function registerSeries(connection: Connection, session: Session): void {
  const known: Known = new WeakMap();
  connection.onRequest(SERIES_REQUEST, (params: SeriesParams, token) =>
    guarded("a curve", session.log, token, () => seriesOf(session, known, params)),
  );
}

/** Computed in slices, and begun anew when the text changes meanwhile. */
async function seriesOf(session: Session, known: Known, { uri, name }: SeriesParams): Promise<StageSeries> {
  const file = fileOfUri(uri);
  if (!SERIES.includes(name)) return { name, uri, version: 0, problem: `There is no curve "${name}".` };
  for (;;) {
    const whole = await session.analyses.whole(file, "shown");
    const version = session.texts.version(file) ?? 0;
    const solved = await solvedAt(session, file, 0);
    if (!solved) return { name, uri, version, problem: "The move can't be solved yet." };
    const kept = known.get(solved.trajectory) ?? new Map<SeriesName, StageSeries>();
    const made = kept.get(name);
    if (made) return { ...made, uri, version };
    const stillNew = () => session.analyses.current(file) === whole;
    const findings = findingsOf(whole.analysis);
    const task = stageSeries(uri, version, { ...solved, findings }, name);
    const outcome = await session.run(task, "asked", stillNew);
    if (outcome.state === "failed") throw outcome.error;
    if (outcome.state !== "done") continue;
    known.set(solved.trajectory, kept.set(name, outcome.value));
    return outcome.value;
  }
}
