import { timeStyle, writeTime } from "../../../core/edit/times/written-time.ts";
import { toDisplay, trimmed } from "../../../core/base/units.ts";
import type { MoveAxis } from "../../../core/motion/resolved-move.ts";
import { nodeAt } from "../../../core/syntax/locate.ts";
import { entryOf, valueOf } from "../../../core/syntax/tree.ts";
import { dimensionOf } from "../axis-dimension.ts";
import type { Asked } from "./proposal.ts";
import type { Fields, Part, Shown } from "./written-snippet.ts";

const hole = (value: string | number): Part => ({ hole: value });

/** A key that keys what the key before keyed, with the values that hold there; the first one aims as well. */
export function newKey(asked: Asked): Shown {
  const axes = keyedAxes(asked);
  return {
    fields: {
      ...timeOf(asked),
      ...(Object.keys(axes).length > 0 ? { axes } : {}),
      ...firstAim(asked),
    },
  };
}

/** A key at the place of the entrance pupil as it is then. */
export function cameraKey(asked: Asked): Shown {
  const { moment } = asked;
  const at = moment ? [...moment.instant.position] : [0, 0, 1];
  return {
    fields: {
      ...timeOf(asked),
      camera: { at: at.map((value) => hole(Number(trimmed(value, 4)))) },
      ...firstAim(asked),
    },
  };
}

/** Half way to the key after; behind the last key, as long after it as it is after its own. In the style of the key before. */
function timeOf({ moment, cursor, view }: Asked): Fields {
  const index = cursor.path[1];
  const isFirst = index === undefined || index === 0;
  if (!moment || moment.before === undefined) return isFirst ? { at: hole("0 s") } : { after: hole("2 s") };
  const { move } = moment.solved;
  const written = (key: number): number => move.keys[key].written ?? move.keys[key].time * move.speed;
  const from = written(moment.before);
  if (moment.after === undefined) {
    const step = moment.before > 0 ? from - written(moment.before - 1) : 2;
    return { at: hole(timeText(view, index, move, from + (step > 0 ? step : 2))) };
  }
  return { at: hole(timeText(view, index, move, (from + written(moment.after)) / 2)) };
}

type Timed = Parameters<typeof writeTime>[2];

function timeText(
  { tree }: Asked["view"],
  index: string | number,
  { rate, startFrame }: { readonly rate: Timed; readonly startFrame: number },
  time: number,
): string | number {
  const before = typeof index === "number" ? nodeAt(tree, ["keys", Math.max(0, index - 1)]) : undefined;
  const said = valueOf(entryOf(before, "at")?.value);
  const style = (said?.kind === "scalar" && timeStyle(said.value)) || { kind: "seconds", unit: " s", size: 1 };
  const text = writeTime(time, style, rate, startFrame);
  return style.kind === "seconds" && style.unit === "" ? Number(text) : text;
}

function keyedAxes({ moment }: Asked): Fields {
  if (!moment) return {};
  const { move, trajectory } = moment.solved;
  const keyed = move.axes.flatMap((axis, idx) => (trajectory.sources[idx] === "keyed" ? [{ axis, idx }] : []));
  return Object.fromEntries(keyed.map(({ axis, idx }) => [axis.name, hole(written(axis, moment.instant.value[idx]))]));
}

function written(axis: MoveAxis, value: number): number {
  return Number(trimmed(toDisplay(value, dimensionOf(axis, 0)), axis.type === "rotary" ? 3 : 4));
}

/** The aim of a first key, at the first target there is; later keys go on with the aim before them. */
function firstAim({ cursor, around }: Asked): Fields {
  const index = cursor.path[1];
  const [target] = around.names("target");
  if (!target || !(index === undefined || index === 0)) return {};
  return { aim: { at: hole(target.name), framing: [hole(0.5), hole(0.5)] } };
}
