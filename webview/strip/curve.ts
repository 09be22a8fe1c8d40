import uPlot from "uplot";
import { element, setText } from "../element.ts";
import type { Palette } from "../palette.ts";
import type { Columns } from "./columns.ts";
import { drawBands, drawKeys, drawLevels } from "./curve-marks.ts";
import { curveScale } from "./curve-scale.ts";
import type { CurveSpec, Line } from "./curve-spec.ts";
import { lineSign } from "./line-sign.ts";
import { valueAt } from "./samples.ts";
import type { TimeWindow } from "./time-window.ts";
import { traceLine } from "./trace.ts";
import { traceFrame } from "./trace-frame.ts";
import type { StagePlot } from "../../protocol/stage.ts";

export interface CurveFrame {
  readonly width: number;
  /** Of the plot without the scale of time [px]. */
  readonly height: number;
  /** The lowest of all: it has the scale of time. */
  readonly isLowest: boolean;
  readonly keyTimes: readonly number[];
  /** All the time that there is [s]. */
  readonly whole: number;
  /** Shared by all curves. */
  readonly columns: Columns;
}

/** A graph over time with its lines, levels, keys and the playhead. Curves are drawn anew only when the window changes. */
export interface Curve {
  readonly object: HTMLElement;
  readonly spec: CurveSpec;
  /** The inside of the plot, which all curves have at the same place across; `undefined` without curves. */
  readonly over: HTMLElement | undefined;
  show(window: TimeWindow, isFitted: boolean): void;
  /** Of all but the plot: names, values, the scale of time [px]. */
  restHeight(): number;
  /** Of the plot [px]. */
  setHeight(height: number): void;
  playhead(time: number): void;
  /** The line under the pointer; `undefined` takes it away. */
  cross(time: number | undefined): void;
  /** A stretch that is being marked. */
  mark(window: TimeWindow | undefined): void;
  /** Writes the values at a time [s] beside the names of the lines. */
  read(time: number): void;
  /** The same in a sentence. */
  words(time: number): string;
  report(): StagePlot;
  dispose(): void;
}

const AXIS_HEIGHT = 24;
export const SCALE_WIDTH = 58;
const RIGHT_PADDING = 12;

export function createCurve(spec: CurveSpec, palette: Palette, frame: CurveFrame, first: TimeWindow): Curve {
  const values = spec.lines.map(() => element("output", { class: "line-value", "aria-live": "off" }));
  const legend = spec.lines.map((line, i) => element("li", {}, lineSign(line), line.name, " ", values[i]));
  const title = element("span", { class: "curve-title" }, `${spec.title} ${spec.unit}`.trim());
  const list = element("ul", { class: "legend-lines", "aria-label": `Values of ${spec.title}` }, ...legend);
  const head = element("div", { class: "curve-head" }, title, spec.lines.length > 0 ? list : undefined);
  const holder = element("div", { class: "plot", role: "img", "aria-label": spec.words });
  const object = element("div", { class: "curve" }, head);
  if (spec.note === undefined) object.append(holder);
  else object.append(element("p", { class: "none" }, spec.note));
  const [playhead, cross, mark] = ["playhead", "crosshair", "marked"].map((name) => element("div", { class: name }));
  cross.hidden = mark.hidden = true;
  let window = first;
  let isFitted = false;
  let time = 0;
  let crossed: number | undefined;
  let plot: uPlot | undefined;
  const place = (line: HTMLElement, at: number | undefined): void => {
    const isShown = plot !== undefined && at !== undefined && window.from <= at && at <= window.to;
    if (line.hidden === isShown) line.hidden = !isShown;
    if (isShown && plot) line.style.transform = `translateX(${plot.valToPos(at, "x")}px)`;
  };
  const scale = (): [number, number] => curveScale(spec, window, frame.whole, isFitted);
  if (spec.note === undefined) {
    plot = new uPlot(
      optionsOf(
        spec,
        palette,
        frame,
        () => window,
        scale,
        () => {
          place(playhead, time);
          place(cross, crossed);
        },
      ),
      [[0, frame.whole], ...spec.lines.map(() => [0, 0])] as uPlot.AlignedData,
      holder,
    );
    plot.over.append(mark, cross, playhead);
  }
  return {
    object,
    spec,
    over: plot?.over,
    show(next, nextFitted) {
      window = next;
      isFitted = nextFitted;
      plot?.batch(() => {
        // The same window with another fit is a change of the scale alone.
        plot?.setScale("x", { min: next.from, max: next.to });
        const [min, max] = scale();
        plot?.setScale("y", { min, max });
      });
    },
    restHeight: () => (plot ? head.offsetHeight + (frame.isLowest ? AXIS_HEIGHT : 0) : object.offsetHeight),
    setHeight: (height) => plot?.setSize({ width: frame.width, height: height + (frame.isLowest ? AXIS_HEIGHT : 0) }),
    playhead(next) {
      time = next;
      place(playhead, time);
    },
    cross(next) {
      crossed = next;
      place(cross, crossed);
    },
    mark(span) {
      mark.hidden = span === undefined;
      if (!span || !plot) return;
      const [left, right] = [span.from, span.to].map((at) => (plot as uPlot).valToPos(at, "x"));
      mark.style.left = `${left}px`;
      mark.style.width = `${right - left}px`;
    },
    read(at) {
      spec.lines.forEach((line, i) => setText(values[i], readingOf(line, at)));
    },
    words: (at) =>
      spec.lines.length === 0 ? "" : `${spec.title}: ${spec.lines.map((line) => `${line.name} ${readingOf(line, at)}`).join(", ")}.`, // prettier-ignore
    report() {
      const { left, top, width, height } = (plot?.over ?? object).getBoundingClientRect();
      return {
        title: spec.title,
        unit: spec.unit,
        rectangle: [left, top, width, height],
        scale: plot ? [plot.scales.y.min ?? NaN, plot.scales.y.max ?? NaN] : [0, 0],
        lines: spec.lines.map(({ name }, i) => ({ name, reading: values[i].textContent })),
        levels: spec.levels.map(({ name }) => name),
        ...(spec.note === undefined ? {} : { note: spec.note }),
      };
    },
    dispose() {
      plot?.destroy();
      object.remove();
    },
  };
}

function readingOf({ extents, read, at, say }: Line, time: number): string {
  const { times } = extents.samples;
  // A move that is compared with may be over by then.
  if (times.length === 0 || time > times[times.length - 1] + 1e-9) return "–";
  const words = say?.(time) ?? "";
  return `${read(at ? at(time) : valueAt(extents.samples, time))}${words ? ` (${words})` : ""}`;
}

function optionsOf(
  spec: CurveSpec,
  palette: Palette,
  frame: CurveFrame,
  window: () => TimeWindow,
  scale: () => [number, number],
  placed: () => void,
): uPlot.Options {
  return {
    width: frame.width,
    height: frame.height + (frame.isLowest ? AXIS_HEIGHT : 0),
    padding: [5, RIGHT_PADDING, frame.isLowest ? 0 : 5, 0],
    legend: { show: false },
    cursor: { show: false },
    scales: {
      x: { time: false, range: () => [window().from, Math.max(window().to, window().from + 1e-3)] },
      y: { auto: false, range: scale },
    },
    axes: [
      {
        show: frame.isLowest,
        size: AXIS_HEIGHT,
        stroke: palette.css.quiet,
        font: `11px ${palette.font}`,
        grid: { show: false },
        ticks: { stroke: palette.css.grid, width: 1, size: 4 },
        values: (_, splits) => splits.map((t) => `${Number(t.toFixed(4))} s`),
      },
      {
        size: SCALE_WIDTH,
        stroke: palette.css.quiet,
        font: `11px ${palette.font}`,
        grid: { stroke: palette.css.grid, width: 1 },
        ticks: { show: false },
        space: 26,
      },
    ],
    series: [
      {},
      ...spec.lines.map((line) => ({
        stroke: line.stroke,
        width: line.isGhost ? 1.25 : 1.75,
        dash: [...line.dash],
        points: { show: false },
        paths: (plot: uPlot) => ({ stroke: pathOf(plot, line, frame.columns), flags: 0 }) as uPlot.Series.Paths,
      })),
    ],
    hooks: {
      drawClear: [
        (plot) => {
          drawBands(plot, spec, palette, frame.columns);
          drawKeys(plot, frame.keyTimes, palette);
        },
      ],
      // Places on the plot are known from its first drawing on.
      draw: [
        (plot) => {
          drawLevels(plot, spec, palette);
          placed();
        },
      ],
    },
  };
}

function pathOf(plot: uPlot, { extents }: Line, columns: Columns): Path2D {
  const path = new Path2D();
  traceLine(extents, traceFrame(plot, columns), path);
  return path;
}
