import type { OpenTake } from "../../take/open-take.ts";
import { readFactor } from "../../take/reading.ts";
import type { Moment } from "../../take/moment.ts";
import type { Label } from "../labels.ts";
import { nearestPixel } from "../projector.ts";
import type { OverlayPart } from "./overlay-part.ts";
import { createRangeModel } from "./range-model.ts";
import { endWords, type RangeShape } from "./range-shape.ts";

/** An end is named where it is so far from the middle of its range in the picture [px]. */
const ROOM = 46;
/** How near a mouse must be to a tick or a middle [px]. */
const NEAR = 16;
const POINTED_RANK = 300;

export interface RangeOverlay extends OverlayPart {
  /** Of each axis in its order: middle and both ends of its range and its tick in the set [m], shape (axes, 4, 3). */
  places(): Float32Array;
  dispose(): void;
}

/** Ranges with their ends in words: where there is room, and of the axis that a mouse points at. */
export function createRangeOverlay(open: OpenTake): RangeOverlay {
  const model = createRangeModel(open);
  const names = open.stage.axes.map(({ name }) => name);
  const ends = model.shapes.map((shape) => [shape.low, shape.high].map((end) => endWords(shape.type, end)));
  let values: ArrayLike<number> = new Float64Array(0);
  return {
    object: model.object,
    update(moment: Moment) {
      values = moment.values;
      model.update(moment);
    },
    paint: model.paint,
    setPicture: model.setPicture,
    labels(pixelsOf, pointer) {
      const pixels = pixelsOf(model.places);
      const ticks = pixelsOf(model.ticks);
      const labels: Label[] = [];
      model.shapes.forEach((shape, i) => {
        if (!shape.hasRange) return;
        const [mx, my] = [pixels[6 * i], pixels[6 * i + 1]];
        ends[i].forEach((text, end) => {
          const [x, y] = [pixels[6 * i + 2 * end + 2], pixels[6 * i + 2 * end + 3]];
          if (Math.hypot(x - mx, y - my) >= ROOM) labels.push({ text, kind: "range", rank: 0.5, x, y });
        });
      });
      const pointed = pointer ? pointedAt(ticks, pixels, pointer.x, pointer.y) : -1;
      if (pointed >= 0) {
        const text = rangeWords(names[pointed], model.shapes[pointed], values[pointed]);
        const rank = POINTED_RANK;
        labels.push({ text, kind: "range-pointed", rank, x: ticks[2 * pointed], y: ticks[2 * pointed + 1] });
      }
      return labels;
    },
    places() {
      const all = new Float32Array(12 * model.shapes.length);
      model.shapes.forEach((_, i) => {
        all.set(model.places.subarray(9 * i, 9 * i + 9), 12 * i);
        all.set(model.ticks.subarray(3 * i, 3 * i + 3), 12 * i + 9);
      });
      return all;
    },
    dispose: model.dispose,
  };
}

function pointedAt(ticks: Float32Array, pixels: Float32Array, x: number, y: number): number {
  const tick = nearestPixel(ticks, x, y, NEAR);
  if (tick >= 0) return tick;
  const place = nearestPixel(pixels, x, y, NEAR);
  return place < 0 ? -1 : Math.floor(place / 3);
}

const ROLES: Readonly<Record<string, string>> = { setup: ", set before the take", follows: ", follows" };

/** `pan -12.3°, range -170° to 170°`. */
export function rangeWords(name: string, shape: RangeShape, value: number): string {
  const { type, kind, low, high, hasRange } = shape;
  const digits = type === "linear" ? 3 : 1;
  const now = `${(value * readFactor(type)).toFixed(digits)}${type === "linear" ? " m" : "°"}`;
  const range = hasRange ? `range ${endWords(type, low)} to ${endWords(type, high)}` : "no range stated";
  return `${name} ${now}, ${range}${ROLES[kind] ?? ""}`;
}
