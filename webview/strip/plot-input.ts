import { panned, pinched, zoomed, type TimeWindow } from "./time-window.ts";

/** How near a press must be to a key to mean it [px]. */
const SNAP = 6;
/** A press that moves less than this is a click [px]. */
const CLICK = 4;
/** A notch of most wheels [px], and what it makes of the window. */
const NOTCH = 100;
const NOTCH_ZOOM = 1.25;

/** What is pointed at: the plots, which all have the same place across. */
export interface PlotTarget {
  /** Edges of the plots across, px of the page; `undefined` without plots. */
  box(): { readonly left: number; readonly width: number } | undefined;
  readonly window: TimeWindow;
  readonly whole: number;
  readonly keyTimes: readonly number[];
  setWindow(window: TimeWindow): void;
  seek(time: number): void;
  /** A key was clicked. */
  keyClicked(key: number): void;
  /** The text of what goes on at a time is wanted. */
  reveal(time: number): void;
  /** The pointer stands over the plots at a place across the page [px]; `undefined` when it left them. */
  point(clientX: number | undefined): void;
  mark(window: TimeWindow | undefined): void;
}

/** Wheel, mouse and fingers over the plots. */
export function bindPlotInput(area: HTMLElement, on: PlotTarget): void {
  const pressed = new Map<number, number>();
  let doing: "nothing" | "seek" | "key" | "mark" | "pinch" = "nothing";
  let begun = 0;
  let key = -1;
  /** Times under two fingers when the second came down. */
  let held: readonly number[] = [];
  const shareAt = (x: number): number => {
    const box = on.box();
    return box && box.width > 0 ? (x - box.left) / box.width : 0;
  };
  const timeAt = (x: number): number => {
    const { from, to } = on.window;
    return Math.min(Math.max(from + shareAt(x) * (to - from), from), to);
  };
  const keyNear = (x: number): number => {
    const width = on.box()?.width ?? 0;
    const reach = (SNAP / (width || 1)) * (on.window.to - on.window.from);
    const time = timeAt(x);
    let nearest = -1;
    on.keyTimes.forEach((each, i) => {
      const off = Math.abs(each - time);
      if (off <= reach && (nearest < 0 || off < Math.abs(on.keyTimes[nearest] - time))) nearest = i;
    });
    return nearest;
  };
  const isPlot = ({ target }: Event): boolean => target instanceof Element && target.closest(".u-over") !== null;

  area.addEventListener("pointerdown", (event) => {
    if (!isPlot(event) || event.button !== 0) return;
    pressed.set(event.pointerId, event.clientX);
    // On the plot itself: a double click is to be told there too.
    (event.target as Element).setPointerCapture(event.pointerId);
    if (pressed.size === 2) {
      doing = "pinch";
      held = [...pressed.values()].map(timeAt);
      on.mark(undefined);
      return;
    }
    if (pressed.size > 2) return;
    begun = event.clientX;
    key = keyNear(begun);
    doing = event.shiftKey ? "mark" : key >= 0 ? "key" : "seek";
    if (doing === "seek") on.seek(timeAt(begun));
  });
  area.addEventListener("pointermove", (event) => {
    const x = event.clientX;
    if (!pressed.has(event.pointerId)) {
      const isOver = isPlot(event);
      on.point(isOver ? x : undefined);
      area.classList.toggle("on-key", isOver && keyNear(x) >= 0);
      return;
    }
    pressed.set(event.pointerId, x);
    if (doing === "key" && Math.abs(x - begun) >= CLICK) doing = "seek";
    if (doing === "seek") on.seek(timeAt(x));
    if (doing === "mark") on.mark(between(timeAt(begun), timeAt(x)));
    if (doing === "pinch" && pressed.size === 2) {
      const [a, b] = [...pressed.values()].map(shareAt);
      on.setWindow(pinched(held[0], a, held[1], b, on.whole));
    }
    on.point(doing === "pinch" ? undefined : x);
  });
  const end = (event: PointerEvent): void => {
    if (!pressed.delete(event.pointerId)) return;
    const isDone = event.type === "pointerup";
    if (doing === "key" && isDone) on.keyClicked(key);
    if (doing === "mark") {
      on.mark(undefined);
      if (isDone && Math.abs(event.clientX - begun) >= CLICK)
        on.setWindow(between(timeAt(begun), timeAt(event.clientX)));
    }
    if (pressed.size === 0 || doing !== "pinch") doing = "nothing";
  };
  area.addEventListener("pointerup", end);
  area.addEventListener("pointercancel", end);
  area.addEventListener("pointerleave", () => on.point(undefined));
  area.addEventListener("dblclick", (event) => {
    if (isPlot(event)) on.setWindow({ from: 0, to: on.whole });
  });
  area.addEventListener("contextmenu", (event) => {
    if (!isPlot(event)) return;
    event.preventDefault();
    on.reveal(timeAt(event.clientX));
  });
  area.addEventListener(
    "wheel",
    (event) => {
      if (!isPlot(event)) return;
      const { window, whole } = on;
      const unit = event.deltaMode === 1 ? NOTCH / 3 : event.deltaMode === 2 ? NOTCH * 3 : 1;
      const [across, down] = [event.deltaX * unit, event.deltaY * unit];
      const isAcross = event.shiftKey || Math.abs(across) > Math.abs(down);
      const length = window.to - window.from;
      const next = isAcross
        ? panned(window, ((across || down) / (on.box()?.width || 1)) * length, whole)
        : zoomed(window, NOTCH_ZOOM ** (down / NOTCH), timeAt(event.clientX), whole);
      // Where there is no more to zoom out of, the wheel scrolls the list of graphs.
      if (next.from === window.from && next.to === window.to) return;
      event.preventDefault();
      on.setWindow(next);
    },
    { passive: false },
  );
}

const between = (a: number, b: number): TimeWindow => ({ from: Math.min(a, b), to: Math.max(a, b) });
