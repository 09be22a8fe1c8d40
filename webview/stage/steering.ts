import type { Side, Viewpoint } from "../panes/pane-kind.ts";
import { orbited, panned, zoomed } from "./viewpoint.ts";

/** How far the pointer may stray between press and release to count as a click [px]. */
const CLICK_SLACK = 5;
/** Radians that one picture height of dragging turns. */
const TURN = Math.PI;
const KEY_TURN = (7.5 * Math.PI) / 180;
const KEY_PAN = 0.06;
const KEY_ZOOM = 1.15;

export interface Steered {
  side(): Side;
  view(): Viewpoint;
  change(view: Viewpoint): void;
  /** A press and release in one place, px from the surface's top left. */
  click(x: number, y: number): void;
  hover(x: number, y: number): void;
}

/**
 * Lets pointer, wheel, fingers and keys look around. Drag turns (moves, in the standard views), Shift or another button
 * moves, the wheel or two fingers zoom; arrow keys turn, with Shift they move, + and - zoom.
 */
export function steer(surface: HTMLElement, steered: Steered): void {
  const pointers = new Map<number, { x: number; y: number }>();
  let start: { x: number; y: number } | undefined;
  const place = (event: PointerEvent | WheelEvent): { x: number; y: number; height: number; width: number } => {
    const box = surface.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top, height: box.height || 1, width: box.width };
  };
  const spread = (): number => {
    const [a, b] = [...pointers.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };

  surface.addEventListener("pointerdown", (event) => {
    const at = place(event);
    pointers.set(event.pointerId, { x: at.x, y: at.y });
    start = pointers.size === 1 ? { x: at.x, y: at.y } : undefined;
    surface.setPointerCapture(event.pointerId);
  });
  surface.addEventListener("pointermove", (event) => {
    const at = place(event);
    const last = pointers.get(event.pointerId);
    if (last === undefined) {
      steered.hover(at.x, at.y);
      return;
    }
    if (start && Math.hypot(at.x - start.x, at.y - start.y) > CLICK_SLACK) start = undefined;
    const before = pointers.size === 2 ? spread() : 0;
    const [dx, dy] = [(at.x - last.x) / at.height, (at.y - last.y) / at.height];
    pointers.set(event.pointerId, { x: at.x, y: at.y });
    if (pointers.size === 2) {
      const after = spread();
      const moved = panned(steered.view(), dx / 2, -dy / 2);
      steered.change(before > 0 && after > 0 ? zoomed(moved, before / after) : moved);
      return;
    }
    const moves = event.shiftKey || event.buttons !== 1 || steered.side() !== "free";
    if (moves) steered.change(panned(steered.view(), dx, -dy));
    else steered.change(orbited(steered.side(), steered.view(), -dx * TURN, dy * TURN));
  });
  const release = (event: PointerEvent): void => {
    pointers.delete(event.pointerId);
    const at = place(event);
    if (start && event.type === "pointerup" && event.button === 0) steered.click(at.x, at.y);
    start = undefined;
  };
  surface.addEventListener("pointerup", release);
  surface.addEventListener("pointercancel", release);
  surface.addEventListener("contextmenu", (event) => event.preventDefault());
  surface.addEventListener(
    "wheel",
    (event) => {
      event.preventDefault();
      const at = place(event);
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      const factor = Math.exp(Math.min(Math.max(event.deltaY * lines, -200), 200) * 0.0015);
      const [right, up] = [(at.x - at.width / 2) / at.height, 0.5 - at.y / at.height];
      steered.change(zoomed(steered.view(), factor, right, up));
    },
    { passive: false },
  );
  surface.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = keyed(steered, event);
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    steered.change(next);
  });
}

function keyed(steered: Steered, event: KeyboardEvent): Viewpoint | undefined {
  const view = steered.view();
  if (event.key === "+" || event.key === "=") return zoomed(view, 1 / KEY_ZOOM);
  if (event.key === "-" || event.key === "_") return zoomed(view, KEY_ZOOM);
  const arrows: Record<string, readonly [number, number]> = {
    ArrowLeft: [-1, 0],
    ArrowRight: [1, 0],
    ArrowUp: [0, 1],
    ArrowDown: [0, -1],
  };
  const arrow = arrows[event.key];
  if (arrow === undefined) return undefined;
  const moves = event.shiftKey || steered.side() !== "free";
  if (moves) return panned(view, -arrow[0] * KEY_PAN, -arrow[1] * KEY_PAN);
  return orbited("free", view, arrow[0] * KEY_TURN, arrow[1] * KEY_TURN);
}
