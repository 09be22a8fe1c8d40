import type { SeriesName, StageSeries } from "../../protocol/stage-series.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { isSeries, type GraphName } from "./graph-names.ts";
import { openSeries, type OpenSeries } from "./series-graphs.ts";

/** Curves are asked for when a take stood for so long [ms]: while a key is dragged they are not. */
const PAUSE = 200;

/** The curves that others make: asked for when they are shown and not those of the take. Older ones stay until then. */
export interface SeriesShelf {
  readonly held: ReadonlyMap<SeriesName, OpenSeries>;
  ask(stage: StageTake | undefined, graphs: readonly GraphName[]): void;
  /** False for what is not of the take. */
  receive(series: StageSeries, stage: StageTake | undefined): boolean;
  clear(): void;
}

/** @param wanted Asks for a curve of a version of the move. */
export function createSeriesShelf(wanted: (name: SeriesName, version: number) => void): SeriesShelf {
  const held = new Map<SeriesName, OpenSeries>();
  /** What was asked for and is not here yet: of which take. */
  const asked = new Map<SeriesName, string>();
  let waiting: number | undefined;
  return {
    held,
    ask(stage, graphs) {
      self.clearTimeout(waiting);
      if (!stage) return;
      const wish = `${stage.version} ${stage.uri}`;
      // Whoever puts a graph away and back asks again.
      for (const name of asked.keys()) if (!graphs.includes(name)) asked.delete(name);
      const missing = graphs.filter(isSeries).filter((name) => {
        const known = held.get(name);
        return (known?.uri !== stage.uri || known.version !== stage.version) && asked.get(name) !== wish;
      });
      if (missing.length === 0) return;
      waiting = self.setTimeout(() => {
        for (const name of missing) {
          asked.set(name, wish);
          wanted(name, stage.version);
        }
      }, PAUSE);
    },
    receive(series, stage) {
      if (series.uri !== stage?.uri || series.version !== stage.version) return false;
      held.set(series.name, openSeries(series));
      asked.delete(series.name);
      return true;
    },
    clear() {
      held.clear();
      asked.clear();
    },
  };
}
