import { element, setText } from "../element.ts";
import { isWhole, type TimeWindow } from "./time-window.ts";

export interface GraphToolsEvents {
  /** More than 1 shows more time. */
  zoom(factor: number): void;
  all(): void;
  /** 1 goes on to the next, -1 back to the one before. */
  peak(step: 1 | -1): void;
  fit(isFitted: boolean): void;
}

/** What stands over the plots: zoom, peaks, and in words what is shown and when it is read. */
export interface GraphTools {
  readonly object: HTMLElement;
  window(window: TimeWindow, whole: number): void;
  /** When values are read: a label such as a timecode. */
  at(label: string): void;
  peak(words: string): void;
  fitted(isFitted: boolean): void;
}

export const ZOOM_STEP = 1.6;

export function createGraphTools(events: GraphToolsEvents): GraphTools {
  const button = (text: string, label: string, title: string, act: () => void): HTMLButtonElement => {
    const made = element("button", { type: "button", "aria-label": label, title }, text);
    made.addEventListener("click", act);
    return made;
  };
  const out = button("−", "Show more time", "Show more time (−, or the wheel)", () => events.zoom(ZOOM_STEP));
  const near = button("+", "Show less time", "Show less time (+, the wheel, or Shift and drag)", () =>
    events.zoom(1 / ZOOM_STEP),
  );
  const all = button("All", "Show all time", "Show all time (0, or a double click)", events.all);
  const peak = button("Peak", "Next peak", "Go to the worst place of what is shown, then to the next (P, back with Shift)", () => events.peak(1)); // prettier-ignore
  const fit = button("Fit height", "Fit height", "Scale to what the shown time holds (Y)", () =>
    events.fit(fit.getAttribute("aria-pressed") !== "true"),
  );
  const span = element("span", { class: "window-words", "aria-live": "polite" });
  const at = element("span", { class: "read-at" });
  const found = element("span", { class: "peak-words" });
  const object = element(
    "div",
    { class: "graph-tools", role: "group", "aria-label": "Reading the graphs" },
    out,
    near,
    all,
    fit,
    peak,
    at,
    found,
    span,
  );
  return {
    object,
    window(window, whole) {
      const shown = isWhole(window, whole);
      all.disabled = shown;
      out.disabled = shown;
      setText(span, shown ? "" : `${seconds(window.from)} to ${seconds(window.to)} of ${seconds(whole)}`);
    },
    at: (label) => setText(at, label),
    peak: (words) => setText(found, words),
    fitted: (isFitted) => fit.setAttribute("aria-pressed", String(isFitted)),
  };
}

const seconds = (time: number): string => `${Number(time.toFixed(3))} s`;
