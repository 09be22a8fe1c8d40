import { element } from "../element.ts";
import { isWhole, panned, type TimeWindow } from "./time-window.ts";

/** A bar over the plots that shows which part of the move they show; dragging it moves the window. */
export interface Overview {
  readonly object: HTMLElement;
  show(window: TimeWindow, whole: number): void;
}

/** For the eye and the pointer alone: keys move the window on the plots, and its ends stand in words beside them. */
export function createOverview(moved: (window: TimeWindow) => void): Overview {
  const thumb = element("div", { class: "overview-window" });
  const object = element("div", { class: "overview", "aria-hidden": "true" }, thumb);
  let window: TimeWindow = { from: 0, to: 1 };
  let whole = 1;
  let last = 0;
  object.addEventListener("pointerdown", (event) => {
    const { left, width } = object.getBoundingClientRect();
    object.setPointerCapture(event.pointerId);
    last = event.clientX;
    const time = ((event.clientX - left) / (width || 1)) * whole;
    if (time < window.from || window.to < time) moved(panned(window, time - (window.from + window.to) / 2, whole));
  });
  object.addEventListener("pointermove", (event) => {
    if (!object.hasPointerCapture(event.pointerId)) return;
    moved(panned(window, ((event.clientX - last) / (object.clientWidth || 1)) * whole, whole));
    last = event.clientX;
  });
  return {
    object,
    show(next, nextWhole) {
      window = next;
      whole = nextWhole;
      object.hidden = isWhole(window, whole);
      thumb.style.left = `${(100 * window.from) / (whole || 1)}%`;
      thumb.style.width = `${(100 * (window.to - window.from)) / (whole || 1)}%`;
    },
  };
}
