import type { Take } from "../../core/motion/take.ts";
import { unpackTake } from "../../protocol/codec.ts";
import type { ShapePreview } from "../../protocol/stage-shape.ts";
import type { OpenTake } from "../take/open-take.ts";

/** A take as it would be: the rows of a preview in the place of those that it changes. The take itself stays as it is. */
export function patchedTake(open: OpenTake, { patch, duration, times, target }: ShapePreview): OpenTake {
  const { stage } = open;
  const keys = stage.keys.map((key, i) => ({ ...key, time: times[i] ?? key.time }));
  const targets = target
    ? stage.targets.map((one, i) => (i === target.index ? { ...one, at: target.at } : one))
    : stage.targets;
  const shown = { ...stage, duration, keys, targets };
  if (!patch) return { ...open, stage: shown, keyTimes: keys.map(({ time }) => time) };
  const rows = unpackTake(patch.rows);
  return {
    ...open,
    // What is drawn of the path and the keys is made anew when these differ: they stand for all rows.
    stage: { ...shown, samples: { ...stage.samples, position: patch.rows.position, share: patch.rows.share } },
    take: spliced(open.take, rows, patch.from, patch.to),
    keyTimes: keys.map(({ time }) => time),
  };
}

function spliced(take: Take, rows: Take, from: number, to: number): Take {
  const count = from + rows.count + (take.count - to);
  const tables = Object.entries(take).flatMap(([name, table]: [string, unknown]) => {
    const fresh: unknown = rows[name as keyof Take];
    if (!(table instanceof Float64Array) || !(fresh instanceof Float64Array)) return [];
    const width = take.count > 0 ? table.length / take.count : 0;
    const out = new Float64Array(count * width);
    out.set(table.subarray(0, from * width));
    out.set(fresh, from * width);
    out.set(table.subarray(to * width), from * width + fresh.length);
    return [[name, out] as const];
  });
  return { count, ...Object.fromEntries(tables) } as unknown as Take;
}
