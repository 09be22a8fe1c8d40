import type { Connection } from "vscode-languageserver";
import type { Trajectory } from "../core/motion/trajectory.ts";
import {
  SERIES,
  SERIES_REQUEST,
  type SeriesName,
  type SeriesParams,
  type StageSeries,
} from "../protocol/stage-series.ts";
import { fromSolved } from "./from-solved.ts";
import { guarded } from "./guard.ts";
import { stageSeries } from "./service/stage/stage-series.ts";
import type { Session } from "./session.ts";

/** Curves that were computed, as long as their motion lives: a comment changes none of them. */
type Known = WeakMap<Trajectory, Map<SeriesName, StageSeries>>;

/** The request for curves that are computed only when somebody looks at them. */
export function registerSeries(connection: Connection, session: Session): void {
  const known: Known = new WeakMap();
  connection.onRequest(SERIES_REQUEST, (params: SeriesParams, token) =>
    guarded("a curve", session.log, token, () => seriesOf(session, known, params)),
  );
}

function seriesOf(session: Session, known: Known, { uri, name }: SeriesParams): Promise<StageSeries> {
  const refused = (version: number, problem: string): StageSeries => ({ name, uri, version, problem });
  if (!SERIES.includes(name)) return Promise.resolve(refused(0, `There is no curve "${name}".`));
  return fromSolved<StageSeries>(session, uri, {
    urgency: "asked",
    *make(version, solved, findings) {
      const kept = known.get(solved.trajectory) ?? new Map<SeriesName, StageSeries>();
      const made = kept.get(name) ?? (yield* stageSeries(uri, version, { ...solved, findings }, name));
      known.set(solved.trajectory, kept.set(name, made));
      return { ...made, uri, version };
    },
    refuse: (_, version) => refused(version, "The move can't be solved yet."),
  });
}
