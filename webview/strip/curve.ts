import uPlot from "uplot";
import type { Palette } from "../palette.ts";

/** One line of a graph, in the unit that people read. */
export interface Line {
  readonly name: string;
  readonly values: ArrayLike<number>;
  /** Colour as CSS text, and dashes so that lines differ without colour too. */
  readonly stroke: string;
  readonly dash: readonly number[];
}

/** A level that is drawn across: an end of the range, a limit. */
export interface Level {
  readonly at: number;
  readonly name: string;
}

export interface CurveSpec {
  readonly title: string;
  readonly unit: string;
  readonly times: Float64Array;
  readonly lines: readonly Line[];
  readonly levels: readonly Level[];
  readonly keyTimes: readonly number[];
  readonly words: string;
  readonly lowest: boolean;
  /** Of the plot without the scale of time [px]. */
  readonly height: number;
}

export interface Curve {
  readonly object: HTMLElement;
  playhead(time: number): void;
  dispose(): void;
}

const AXIS_HEIGHT = 24;

/** A graph over time with its levels, the keys and the playhead; pressing or dragging in it seeks. */
export function createCurve(spec: CurveSpec, palette: Palette, width: number, seek: (time: number) => void): Curve {
  const object = document.createElement("div");
  object.className = "curve";
  object.setAttribute("role", "img");
  object.setAttribute("aria-label", spec.words);
  const options: uPlot.Options = {
    width,
    height: spec.height + (spec.lowest ? AXIS_HEIGHT : 0),
    padding: [5, 12, spec.lowest ? 0 : 5, 0],
    legend: { show: false },
    cursor: { drag: { x: false, y: false, setScale: false }, points: { size: 6 }, y: false },
    scales: {
      x: { time: false, range: () => [spec.times[0], Math.max(spec.times[spec.times.length - 1], 1e-3)] },
      y: { range: () => heightOf(spec) },
    },
    axes: [
      {
        show: spec.lowest,
        size: AXIS_HEIGHT,
        stroke: palette.css.quiet,
        font: `11px ${palette.font}`,
        grid: { show: false },
        ticks: { stroke: palette.css.grid, width: 1, size: 4 },
        values: (_, splits) => splits.map((t) => `${Number(t.toFixed(3))} s`),
      },
      {
        size: 58,
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
        label: line.name,
        stroke: line.stroke,
        width: 1.75,
        dash: [...line.dash],
        points: { show: false },
      })),
    ],
    hooks: {
      drawClear: [(plot) => drawKeys(plot, spec, palette)],
      // Places on the plot are known from its first drawing on.
      draw: [(plot) => drawLevels(plot, spec, palette), (plot) => placeHead(plot)],
    },
  };
  const head = document.createElement("div");
  head.className = "playhead";
  let time = 0;
  const placeHead = (plot: uPlot): void => {
    head.style.transform = `translateX(${plot.valToPos(time, "x")}px)`;
  };
  const data = [
    spec.times,
    ...spec.lines.map((line) => Array.from(line.values, finite)),
  ] as unknown as uPlot.AlignedData;
  const plot = new uPlot(options, data, object);
  const title = document.createElement("span");
  title.className = "curve-title";
  title.textContent = `${spec.title} ${spec.unit}`;
  plot.over.append(head);
  object.prepend(title);
  let dragging = false;
  const seekTo = (event: PointerEvent): void => {
    const box = plot.over.getBoundingClientRect();
    seek(plot.posToVal(Math.min(Math.max(event.clientX - box.left, 0), box.width), "x"));
  };
  plot.over.addEventListener("pointerdown", (event) => {
    dragging = true;
    plot.over.setPointerCapture(event.pointerId);
    seekTo(event);
  });
  plot.over.addEventListener("pointermove", (event) => {
    if (dragging) seekTo(event);
  });
  for (const end of ["pointerup", "pointercancel"] as const) {
    plot.over.addEventListener(end, () => {
      dragging = false;
    });
  }
  return {
    object,
    playhead(next) {
      time = next;
      placeHead(plot);
    },
    dispose() {
      plot.destroy();
      object.remove();
    },
  };
}

/** uPlot leaves a gap at null; it would draw nothing at all with an infinity in its data. */
function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** Room for the curve and its levels. */
function heightOf(spec: CurveSpec): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  const include = (value: number): void => {
    if (!Number.isFinite(value)) return;
    low = Math.min(low, value);
    high = Math.max(high, value);
  };
  for (const line of spec.lines) for (let i = 0; i < line.values.length; i++) include(line.values[i]);
  for (const level of spec.levels) include(level.at);
  if (low > high) [low, high] = [0, 1];
  const margin = high > low ? (high - low) * 0.08 : Math.max(Math.abs(high) * 0.1, 0.01);
  return [low - margin, high + margin];
}

function drawKeys(plot: uPlot, spec: CurveSpec, palette: Palette): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = palette.css["grid-strong"];
  ctx.setLineDash([1, 4].map((part) => part * devicePixelRatio));
  ctx.beginPath();
  for (const time of spec.keyTimes) {
    const x = Math.round(plot.valToPos(time, "x", true)) + 0.5;
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
  }
  ctx.stroke();
  ctx.restore();
}

function drawLevels(plot: uPlot, spec: CurveSpec, palette: Palette): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = palette.css["share-over"];
  ctx.fillStyle = palette.css.quiet;
  ctx.lineWidth = devicePixelRatio;
  ctx.font = `${10 * devicePixelRatio}px ${palette.font}`;
  ctx.textAlign = "right";
  for (const level of spec.levels) {
    const y = Math.round(plot.valToPos(level.at, "y", true)) + 0.5;
    ctx.setLineDash([7, 4].map((part) => part * devicePixelRatio));
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
    const above = y - bbox.top > bbox.height / 2;
    ctx.textBaseline = above ? "bottom" : "top";
    const off = (above ? -2 : 3) * devicePixelRatio;
    ctx.fillText(level.name, bbox.left + bbox.width - 4 * devicePixelRatio, y + off);
  }
  ctx.restore();
}
