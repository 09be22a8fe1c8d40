import type { Vec3 } from "../../core/base/vec3.ts";
import { setAttributes, svg } from "../element.ts";
import type { Side, Viewpoint } from "../panes/pane-kind.ts";
import { basisOf } from "./viewpoint.ts";

/** Steps that a ruler may count in [m], and the least room for one of them [px]. */
const STEPS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50];
const ROOM = 52;
const TICK = 6;

/** A place on the edge of the picture and the metres that it stands for. */
export interface Tick {
  readonly at: number;
  readonly text: string;
}

/**
 * Ticks of one direction of a parallel view.
 *
 * @param along  Direction of rising px in the set: one of its axes or against one.
 * @param length Of the edge [px]; the middle of it looks at the view's centre.
 * @param scale  px per metre.
 */
export function ticksAlong(along: Vec3, centre: Vec3, length: number, scale: number): readonly Tick[] {
  const axis = along.findIndex((part) => Math.abs(part) > 0.5);
  const sign = Math.sign(along[axis]);
  const step = STEPS.find((one) => one * scale >= ROOM) ?? STEPS[STEPS.length - 1];
  const ends = [-1, 1].map((end) => centre[axis] + (sign * end * length) / (2 * scale));
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const digits = step < 0.1 ? 2 : step < 1 ? 1 : 0;
  const ticks: Tick[] = [];
  for (let count = Math.ceil(low / step); count * step <= high; count++) {
    const metres = count * step;
    const text = count === 0 ? "0" : metres.toFixed(digits);
    ticks.push({ at: length / 2 + (metres - centre[axis]) * sign * scale, text: `${text} m` });
  }
  return ticks;
}

/** Rulers along the lower and left edges of the standard views; the free view has the floor's numerals. */
export function createRulers(): {
  readonly object: SVGSVGElement;
  draw(side: Side, view: Viewpoint, width: number, height: number): void;
} {
  const object = svg("svg", { class: "rulers", "aria-hidden": "true" });
  let drawn = "";
  return {
    object,
    draw(side, view, width, height) {
      const wanted = side === "free" ? "" : JSON.stringify([side, view, width, height]);
      if (wanted === drawn) return;
      drawn = wanted;
      object.replaceChildren();
      if (side === "free") return;
      setAttributes(object, { viewBox: `0 0 ${width} ${height}`, width, height });
      const { right, up } = basisOf(view);
      const scale = height / view.span;
      const down = up.map((part) => -part) as unknown as Vec3;
      for (const { at, text } of ticksAlong(right, view.centre, width, scale)) {
        object.append(svg("line", { x1: at, x2: at, y1: height, y2: height - TICK }));
        object.append(svg("text", { x: at, y: height - TICK - 4, "text-anchor": "middle" }, text));
      }
      for (const { at, text } of ticksAlong(down, view.centre, height, scale)) {
        if (at > height - 24) continue;
        object.append(svg("line", { x1: 0, x2: TICK, y1: at, y2: at }));
        object.append(svg("text", { x: TICK + 4, y: at + 4 }, text));
      }
    },
  };
}
