import type { Mesh } from "three";
import type { Palette } from "../../palette.ts";
import type { Moment } from "../../take/moment.ts";
import type { OpenTake } from "../../take/open-take.ts";
import { createAxisFrames } from "./axis-frames.ts";
import { END, placeOnRange, RANGE_KINDS, rangeShapes, stepsOf, type RangeShape } from "./range-shape.ts";
import { createStrokes, type StrokeLook } from "./strokes.ts";

/** The ranges of all axes at their joints, with the present values as ticks. */
export interface RangeModel {
  readonly object: Mesh;
  readonly shapes: readonly RangeShape[];
  update(moment: Moment): void;
  /** Of each shape in the set [m], shape (shapes, 3, 3): its middle and both ends. */
  readonly places: Float32Array;
  /** Where the ticks stand, shape (shapes, 3) in the set [m]. */
  readonly ticks: Float32Array;
  paint(palette: Palette): void;
  setPicture(width: number, height: number, ratio: number): void;
  dispose(): void;
}

/** In the order of `RANGE_KINDS`: lines differ by their dashes, what has no range by wide gaps and no end marks. */
const LOOKS: readonly StrokeLook[] = [
  { colour: "share-calm", width: 2 },
  { colour: "quiet", width: 2.5, dash: [0.024, 0.3] },
  { colour: "share-calm", width: 1.5, dash: [0.06, 0.65] },
  { colour: "target", width: 2 },
  { colour: "quiet", width: 1.5, dash: [0.09, 0.35] },
  { colour: "ink", width: 3.5 },
  { colour: "share-over", width: 6 },
  { colour: "quiet", width: 2 },
];
const TICK = RANGE_KINDS.length;
const OVER = TICK + 1;
const END_MARK = TICK + 2;
/** Ticks on rails and on arcs: how far to both sides, of the radius. */
const RAIL = [0.7, 0.7] as const;
const ROUND = [2 * END, END] as const;
/** Of the range's width: beyond an end by less is rounding. */
const ROUNDING = 1e-6;

export function createRangeModel(open: OpenTake): RangeModel {
  const shapes = rangeShapes(open);
  const most = shapes.reduce((sum, shape) => sum + stepsOf(shape) + shape.positions.length + 3, 0);
  const strokes = createStrokes(most, LOOKS, 13);
  const frames = createAxisFrames(open);
  const lines = shapes.map(lineOf);
  const kinds = shapes.map(({ kind }) => RANGE_KINDS.indexOf(kind));
  const places = new Float32Array(9 * shapes.length);
  const ticks = new Float32Array(3 * shapes.length);
  const [a, b, near, far] = Array.from({ length: 4 }, () => new Float64Array(3));

  const mark = (shape: RangeShape, value: number, inner: number, outer: number, look: number): void => {
    placeOnRange(shape, value, -inner * shape.radius, near);
    placeOnRange(shape, value, outer * shape.radius, far);
    frames.toSet(near, a);
    frames.toSet(far, b);
    strokes.add(a[0], a[1], a[2], b[0], b[1], b[2], look);
  };

  return {
    object: strokes.object,
    shapes,
    places,
    ticks,
    update(moment) {
      strokes.begin();
      for (let i = 0; i < shapes.length; i++) {
        const shape = shapes[i];
        const value = moment.values[shape.axis];
        frames.enter(shape.axis, moment);
        // A rail without ends goes along with its value.
        const shift = shape.type === "linear" && !shape.hasRange ? value : 0;
        let along = 0;
        for (let k = 0; k < lines[i].length; k += 3) {
          for (let c = 0; c < 3; c++) near[c] = lines[i][k + c] + shape.along[c] * shift;
          frames.toSet(near, b);
          if (k > 0) {
            strokes.add(a[0], a[1], a[2], b[0], b[1], b[2], kinds[i], along);
            along += Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
          }
          a.set(b);
          if (k === 0) places.set(b, 9 * i + 3);
        }
        places.set(b, 9 * i + 6);
        near.fill(0);
        frames.toSet(near, b);
        places.set(b, 9 * i);
        if (shape.hasRange) {
          const size = shape.type === "linear" ? 1 : END;
          mark(shape, shape.low, size, size, END_MARK);
          mark(shape, shape.high, size, size, END_MARK);
        }
        for (const position of shape.positions) mark(shape, position, 0, END, TICK);
        const slack = ROUNDING * (shape.high - shape.low);
        const isOver = shape.hasRange && (value < shape.low - slack || shape.high + slack < value);
        const [inner, outer] = shape.type === "linear" ? RAIL : ROUND;
        mark(shape, value, inner, outer, isOver ? OVER : TICK);
        placeOnRange(shape, value, 0, near);
        frames.toSet(near, b);
        ticks.set(b, 3 * i);
      }
      strokes.end();
    },
    paint: strokes.paint,
    setPicture: strokes.setPicture,
    dispose: strokes.dispose,
  };
}

/** Places of the line in the frame of the shape, shape (steps + 1, 3) [m]. */
function lineOf(shape: RangeShape): Float64Array {
  const steps = stepsOf(shape);
  const line = new Float64Array(3 * (steps + 1));
  for (let i = 0; i <= steps; i++) {
    const value = shape.low + ((shape.high - shape.low) * i) / steps;
    placeOnRange(shape, value, 0, line.subarray(3 * i, 3 * i + 3));
  }
  return line;
}
