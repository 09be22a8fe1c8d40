import { ZOOM_STEP } from "./graph-tools.ts";

/** Share of the window that an arrow moves it by. */
const PAN = 0.2;

export interface PlotKeys {
  zoom(factor: number): void;
  /** By a share of the window, later when positive. */
  pan(share: number): void;
  all(): void;
  fit(): void;
  /** The text of what goes on at the playhead is wanted. */
  reveal(): void;
}

/** Keys that work while the plots have the focus. */
export function bindPlotKeys(area: HTMLElement, on: PlotKeys): void {
  const acts: Readonly<Record<string, () => void>> = {
    "+": () => on.zoom(1 / ZOOM_STEP),
    "=": () => on.zoom(1 / ZOOM_STEP),
    "-": () => on.zoom(ZOOM_STEP),
    ArrowLeft: () => on.pan(-PAN),
    ArrowRight: () => on.pan(PAN),
    "0": on.all,
    y: on.fit,
    Y: on.fit,
    Enter: on.reveal,
  };
  area.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !Object.hasOwn(acts, event.key)) return;
    event.preventDefault();
    event.stopPropagation();
    acts[event.key]();
  });
}
