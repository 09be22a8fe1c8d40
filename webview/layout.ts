import { element } from "./element.ts";
import { STRIP_RANGE } from "./state.ts";

export interface Layout {
  readonly divider: HTMLElement;
  /** Share of the height that the strip takes. */
  setStrip(share: number): void;
}

const KEY_STEP = 0.03;

/** The line between the pictures and the strip: drag it, or move it with the arrow keys. */
export function createDivider(changed: (share: number) => void): Layout {
  const divider = element("div", {
    class: "divider",
    role: "separator",
    tabindex: "0",
    "aria-orientation": "horizontal",
    "aria-label": "Height of the graphs",
    "aria-valuemin": Math.round(STRIP_RANGE[0] * 100),
    "aria-valuemax": Math.round(STRIP_RANGE[1] * 100),
  });
  let now = 0.5;
  const bounded = (share: number): number => Math.min(Math.max(share, STRIP_RANGE[0]), STRIP_RANGE[1]);
  divider.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    divider.focus();
    divider.setPointerCapture(event.pointerId);
  });
  divider.addEventListener("pointermove", (event) => {
    if (divider.hasPointerCapture(event.pointerId)) changed(bounded(1 - event.clientY / window.innerHeight));
  });
  divider.addEventListener("keydown", (event) => {
    const step = { ArrowUp: KEY_STEP, ArrowDown: -KEY_STEP }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    changed(bounded(now + step));
  });
  return {
    divider,
    setStrip(share) {
      now = bounded(share);
      divider.setAttribute("aria-valuenow", String(Math.round(now * 100)));
      document.body.style.setProperty("--strip", `${(now * 100).toFixed(1)}%`);
    },
  };
}
