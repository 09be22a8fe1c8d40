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

export function createSeriesShelf(wanted: (name: SeriesName) => void): SeriesShelf {
  const held = new Map<SeriesName, OpenSeries>();
  let waiting: number | undefined;
  return {
    held,
    ask(stage, graphs) {
      self.clearTimeout(waiting);
      if (!stage) return;
      const missing = graphs.filter(isSeries).filter((name) => {
        const known = held.get(name);
        return known?.uri !== stage.uri || known.version !== stage.version;
      });
      if (missing.length > 0) waiting = self.setTimeout(() => missing.forEach(wanted), PAUSE);
    },
    receive(series, stage) {
      if (series.uri !== stage?.uri || series.version !== stage.version) return false;
      held.set(series.name, openSeries(series));
      return true;
    },
    clear: () => held.clear(),
  };
}
