import type { MoveAxis } from "../../core/motion/resolved-move.ts";
import { element } from "../element.ts";

export interface NudgeEvents {
  /** An axis of the chosen key is wanted further by this than the text has it [m, rad]. */
  nudged(axis: number, by: number): void;
  released(): void;
  cancelled(): void;
}

/** How far one press goes [m, rad], and with Shift, as it is read. */
const STEPS = {
  linear: { small: 1e-3, large: 1e-2, words: "1 mm, with Shift 10 mm" },
  rotary: { small: (0.1 * Math.PI) / 180, large: Math.PI / 180, words: "0.1 deg, with Shift 1 deg" },
} as const;

/** The name of an axis, which moves its value at the chosen key: by the arrow keys, or by the two buttons beside it. */
export function createNudge({ name, type }: MoveAxis, axis: number, events: NudgeEvents): HTMLElement {
  const { small, large, words } = STEPS[type];
  const handle = element(
    "button",
    { type: "button", class: "nudge", title: `Up and down arrow: ${words}, at the chosen key` },
    name,
  );
  let by = 0;
  const nudge = (way: 1 | -1, isLarge: boolean): void => {
    by += way * (isLarge ? large : small);
    events.nudged(axis, by);
  };
  const letGo = (how: "released" | "cancelled"): void => {
    if (by === 0) return;
    by = 0;
    events[how]();
  };
  handle.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "ArrowUp" || event.key === "ArrowDown") nudge(event.key === "ArrowUp" ? 1 : -1, event.shiftKey);
    else if (event.key === "Escape") letGo("cancelled");
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  handle.addEventListener("keyup", (event) => {
    if (event.key === "ArrowUp" || event.key === "ArrowDown") letGo("released");
  });
  handle.addEventListener("blur", () => letGo("released"));
  const button = (way: 1 | -1, sign: string): HTMLElement => {
    const words = `${name} ${way > 0 ? "up" : "down"} at the chosen key`;
    const made = element("button", { type: "button", class: "nudge-step", tabindex: -1, "aria-label": words }, sign);
    made.addEventListener("click", (event) => {
      nudge(way, event.shiftKey);
      letGo("released");
    });
    return made;
  };
  return element("span", { class: "nudges" }, handle, button(-1, "−"), button(1, "+"));
}
