import type { SeriesName } from "../../protocol/stage-series.ts";
import type { Palette } from "../palette.ts";
import { orderGraphs, shareGraph, type Stores } from "./axis-graphs.ts";
import type { CurveSpec } from "./curve-spec.ts";
import { GRAPHS, isOrder, isSeries, type GraphChoice, type GraphName } from "./graph-names.ts";
import { focusGraph, framingGraphs } from "./picture-graphs.ts";
import { seriesGraph, type OpenSeries } from "./series-graphs.ts";

/** What stands below each other for a choice, in the order of `GRAPHS`. */
export function graphSpecs(
  stores: Stores,
  series: ReadonlyMap<SeriesName, OpenSeries>,
  choice: GraphChoice,
  palette: Palette,
): readonly CurveSpec[] {
  const all = stores.own.open.stage.axes.map((_, i) => i);
  const named = all.filter((i) => choice.axes.includes(stores.own.open.stage.axes[i].name));
  const axes = named.length > 0 ? named : all;
  const specs = (name: GraphName): readonly CurveSpec[] => {
    if (name === "shares") return [shareGraph(stores, axes, palette)];
    if (isOrder(name)) return orderGraphs(stores, name, axes, palette);
    if (isSeries(name)) return [seriesGraph(name, series.get(name), palette)];
    return name === "framing" ? framingGraphs(stores, palette) : [focusGraph(stores, palette)];
  };
  return GRAPHS.flatMap(({ name }) => (choice.graphs.includes(name) ? specs(name) : []));
}
