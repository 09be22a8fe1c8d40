import type { StageGraphs } from "../../protocol/stage.ts";
import type { SeriesName, StageSeries } from "../../protocol/stage-series.ts";
import { element } from "../element.ts";
import type { Palette } from "../palette.ts";
import type { OpenTake } from "../take/open-take.ts";
import { peakShares } from "../take/share.ts";
import { timecodeOf } from "../take/words.ts";
import { keyPassed } from "../take/timeline.ts";
import { createColumns } from "./columns.ts";
import { createCurve, type Curve } from "./curve.ts";
import { layCurves } from "./curve-stack.ts";
import { createGraphChooser } from "./graph-choice.ts";
import { FRESH_CHOICE, type GraphChoice } from "./graph-names.ts";
import { createGraphTime } from "./graph-time.ts";
import { bindPlotKeys } from "./plot-keys.ts";
import { graphSpecs } from "./graph-specs.ts";
import { createGraphTools } from "./graph-tools.ts";
import { createLineStore, type LineStore } from "./line-store.ts";
import { createOverview } from "./overview.ts";
import { createPeakWalk } from "./peak-walk.ts";
import { bindPlotInput } from "./plot-input.ts";
import { createSeriesShelf } from "./series-shelf.ts";
import { panned, showing, zoomed, type TimeWindow } from "./time-window.ts";

export interface GraphsEvents {
  seek(time: number): void;
  keyClicked(key: number): void;
  chosen(choice: GraphChoice): void;
  /** Another stretch of time is shown; `undefined`: all of it. */
  windowed(window: TimeWindow | undefined): void;
  /** Curves that are not made here are wanted. */
  wanted(name: SeriesName, version: number): void;
}

export interface Graphs {
  readonly object: HTMLElement;
  load(open: OpenTake | undefined): void;
  /** Another move whose lines are drawn too; `undefined` for none. */
  loadGhost(open: OpenTake | undefined): void;
  receive(series: StageSeries): void;
  choose(choice: GraphChoice): void;
  /** `undefined` shows all. */
  setWindow(window: TimeWindow | undefined): void;
  playhead(time: number): void;
  /** Writes what is read; need not be with each picture. */
  read(): void;
  /** Goes to the next peak, or back. */
  peak(step: 1 | -1): void;
  /** What is read, in sentences, for who is at the graphs; else empty. */
  words(): string;
  /** Time at a place across the page [s], and the place of a time [px]; NaN without plots. */
  timeAt(clientX: number): number;
  xOf(time: number): number;
  report(): StageGraphs | undefined;
  paint(palette: Palette): void;
}

/** Share of the window that is left on the side of the playhead from which it comes back into it. */
const FOLLOW_MARGIN = 0.1;
/** Curves over one window of time: axes, picture, focus, clearance, passes. */
export function createGraphs(events: GraphsEvents): Graphs {
  const stack = element("div", {
    class: "stack",
    role: "group",
    tabindex: "0",
    "aria-label": "Plots. Plus and minus zoom, arrows move, P goes to the next peak, Enter to the text of the key.",
  });
  const chooser = createGraphChooser(events.chosen);
  const tools = createGraphTools({
    zoom: (factor) => setWindow(zoomed(span.window, factor, aboutTime(), span.whole)),
    all: () => setWindow({ from: 0, to: span.whole }),
    peak: (step) => goToPeak(step),
    fit: setFitted,
  });
  const overview = createOverview((next) => setWindow(next));
  const object = element("div", { class: "graphs" }, chooser.object, tools.object, overview.object, stack);
  const walk = createPeakWalk();
  const series = createSeriesShelf(events.wanted);
  const span = createGraphTime();
  const columns = createColumns();
  let own: LineStore | undefined;
  let ghost: LineStore | undefined;
  let palette: Palette | undefined;
  let choice: GraphChoice = FRESH_CHOICE;
  let curves: readonly Curve[] = [];
  let isFitted = false;
  let time = 0;
  /** Where the pointer stands across the page [px]. */
  let pointed: number | undefined;
  let drawing: number | undefined;

  const draw = (): void => {
    for (const curve of curves) curve.dispose();
    curves = [];
    walk.clear();
    const width = stack.clientWidth;
    showSpan();
    if (own === undefined || palette === undefined || width < 60) return;
    const specs = graphSpecs({ own, ghost }, series.held, choice, palette);
    const { keyTimes } = own.open;
    const first = { width, height: 1, keyTimes, whole: span.whole, columns };
    const lowest = specs.map(({ note }) => note === undefined).lastIndexOf(true);
    curves = specs.map((spec, i) =>
      createCurve(spec, palette as Palette, { ...first, isLowest: i === lowest }, span.window),
    );
    stack.append(...curves.map((curve) => curve.object));
    layCurves(object, stack, curves);
    for (const curve of curves) {
      curve.show(span.window, isFitted);
      curve.playhead(time);
    }
    read();
    series.ask(own.open.stage, choice.graphs);
  };

  /** Draws the curves for the window that is wanted by the next picture, however often it changed until then. */
  const redraw = (): void => {
    drawing ??= requestAnimationFrame(() => {
      drawing = undefined;
      for (const curve of curves) curve.show(span.window, isFitted);
      point(pointed);
    });
  };

  const showSpan = (): void => {
    overview.show(span.window, span.whole);
    tools.window(span.window, span.whole);
  };

  const setWindow = (next: TimeWindow): void => {
    if (!span.ask(next)) return;
    showSpan();
    events.windowed(span.asked);
    redraw();
  };

  function setFitted(next: boolean): void {
    isFitted = next;
    tools.fitted(isFitted);
    redraw();
  }

  /** Keys and buttons zoom about the playhead where it is seen. */
  function aboutTime(): number {
    const { from, to } = span.window;
    return from <= time && time <= to ? time : (from + to) / 2;
  }

  function goToPeak(step: 1 | -1): void {
    if (own === undefined) return;
    const { open } = own;
    const specs = curves.map((curve) => curve.spec);
    const found = walk.next(specs, open.stage.duration, step);
    if (found === undefined) {
      tools.peak("No peak in what is shown.");
      return;
    }
    // What is read is the peak, wherever the pointer was left.
    point(undefined);
    setWindow(showing(span.window, found.time, 0.5, span.whole));
    events.seek(found.time);
    tools.peak(found.words);
    read();
  }

  const timeAt = (clientX: number): number => {
    const { from, to } = span.window;
    const place = box();
    return place ? from + ((clientX - place.left) / place.width) * (to - from) : NaN;
  };
  const readTime = (): number => (pointed === undefined ? time : Math.max(0, timeAt(pointed)));
  function read(): void {
    if (own === undefined) return;
    const at = readTime();
    for (const curve of curves) curve.read(at);
    tools.at(`${timecodeOf(own.open, Math.min(at, own.open.stage.duration))} · ${at.toFixed(3)} s`);
  }

  const box = (): { readonly left: number; readonly width: number } | undefined =>
    curves.find((curve) => curve.over)?.over?.getBoundingClientRect();
  function point(clientX: number | undefined): void {
    pointed = clientX;
    const at = clientX === undefined ? undefined : timeAt(clientX);
    for (const curve of curves) curve.cross(at);
    read();
  }
  const reveal = (at: number): void => {
    const key = keyPassed(at, own?.open.keyTimes ?? []);
    if (key >= 0) events.keyClicked(key);
  };
  const target = {
    box,
    get window() {
      return span.window;
    },
    get whole() {
      return span.whole;
    },
    get keyTimes() {
      return own?.open.keyTimes ?? [];
    },
    setWindow,
    seek: events.seek,
    keyClicked: events.keyClicked,
    reveal,
    point,
    mark: (stretch: TimeWindow | undefined) => curves.forEach((curve) => curve.mark(stretch)),
  };
  bindPlotInput(stack, target);
  bindPlotKeys(stack, {
    zoom: (factor) => setWindow(zoomed(span.window, factor, aboutTime(), span.whole)),
    pan: (share) => setWindow(panned(span.window, share * (span.window.to - span.window.from), span.whole)),
    all: () => setWindow({ from: 0, to: span.whole }),
    fit: () => setFitted(!isFitted),
    reveal: () => reveal(time),
  });
  let size = "";
  new ResizeObserver(() => {
    const next = `${object.clientWidth} ${object.clientHeight}`;
    if (next !== size) draw();
    size = next;
  }).observe(object);

  const retime = (): void => span.setWhole(Math.max(own?.open.stage.duration ?? 0, ghost?.open.stage.duration ?? 0));
  const fill = (): void => {
    if (palette) chooser.load(own?.open, own ? peakShares(own.open) : [], palette);
  };
  return {
    object,
    load(next) {
      const isOther = own?.open.stage.uri !== next?.stage.uri;
      own = next && createLineStore(next);
      if (isOther) series.clear();
      retime();
      fill();
      tools.peak("");
      draw();
    },
    loadGhost(next) {
      ghost = next && createLineStore(next);
      retime();
      draw();
    },
    receive(next) {
      if (series.receive(next, own?.open.stage) && choice.graphs.includes(next.name)) draw();
    },
    choose(next) {
      choice = next;
      chooser.show(choice);
      draw();
    },
    setWindow(next) {
      if (!span.ask(next)) return;
      showSpan();
      redraw();
    },
    playhead(next) {
      time = next;
      if (span.asked) {
        const { window } = span;
        const shown = showing(window, time, time > window.to ? 1 - FOLLOW_MARGIN : FOLLOW_MARGIN, span.whole);
        if (shown !== window) setWindow(shown);
      }
      for (const curve of curves) curve.playhead(time);
    },
    read,
    peak: goToPeak,
    words() {
      if (!stack.contains(document.activeElement)) return "";
      return [walk.wordsAt(time), ...curves.map((curve) => curve.words(time))].filter(Boolean).join(" ");
    },
    timeAt,
    xOf(at) {
      const place = box();
      const { from, to } = span.window;
      return place ? place.left + ((at - from) / (to - from)) * place.width : NaN;
    },
    report() {
      if (own === undefined || object.hidden) return undefined;
      return {
        window: [span.window.from, span.window.to],
        whole: span.whole,
        at: readTime(),
        peak: walk.wordsAt(time),
        plots: curves.map((curve) => curve.report()),
      };
    },
    paint(next) {
      palette = next;
      fill();
      draw();
    },
  };
}
