import { blurCircle } from "../../core/lens/depth-of-field.ts";
import type { Palette } from "../palette.ts";
import type { OpenTake } from "../take/open-take.ts";
import { distanceReading } from "../take/reading.ts";
import { createSharpness, sensorOffset, sharpAt } from "../take/sharpness.ts";
import { ghostOf, type Stores } from "./axis-graphs.ts";
import { emptyCurve, type CurveSpec, type Line } from "./curve-spec.ts";
import { aloneLook, lineLook } from "./line-look.ts";
import { wholeExtent, type LineStore } from "./line-store.ts";
import { columnOf, samplesOf } from "./samples.ts";

const readShare = (share: number): string => (Number.isFinite(share) ? share.toFixed(4) : "–");
const readPx = (px: number): string => (Number.isFinite(px) ? `${px.toFixed(px < 10 ? 2 : 1)} px` : "–");

/** Where the framing wants the subject and where it is, and how far that is off. */
export function framingGraphs({ own, ghost }: Stores, palette: Palette): readonly CurveSpec[] {
  const { wanted, reached } = own.open.take;
  if (!wanted || !reached || !wanted.some(Number.isFinite)) {
    return [emptyCurve("Framing", "No key aims at anything, so no framing is asked for.")];
  }
  const [across, down, alone] = [lineLook(0, palette), lineLook(1, palette), aloneLook(palette)];
  const placeOf = (store: LineStore, table: "wanted" | "reached", k: number) =>
    store.line(`${table} ${k}`, () => columnOf(store.open.take.t, store.open.take[table] ?? nothing(store), k, 2));
  const line = (name: string, table: "wanted" | "reached", k: number): Line => ({
    name: `${name} ${table}`,
    ...(k === 0 ? across : down),
    dash: table === "wanted" ? (k === 0 ? [8, 4] : [3, 3]) : [],
    extents: placeOf(own, table, k),
    read: readShare,
  });
  const lines = [line("across", "wanted", 0), line("across", "reached", 0), line("down", "wanted", 1), line("down", "reached", 1)]; // prettier-ignore
  if (ghost) {
    for (const k of [0, 1]) {
      const extents = placeOf(ghost, "reached", k);
      lines.push(ghostOf({ ...lines[2 * k + 1], extents }, lines[2 * k + 1], palette));
    }
  }
  const { aim } = own.open.stage.tolerance;
  const error: Line = { name: "off by", ...alone, extents: errorOf(own), read: readPx, badness: (px) => px / aim };
  const errors = ghost ? [error, ghostOf({ ...error, extents: errorOf(ghost) }, alone, palette)] : [error];
  const limit = `allowed ${Number(aim.toFixed(2))} px`;
  const off = wholeExtent(error.extents).high;
  return [
    {
      title: "Framing, from the left and the top of the captured picture",
      unit: "",
      lines,
      levels: [],
      bands: [],
      words: "Framing wanted and reached over the move, across and down, as shares of the captured picture.",
    },
    {
      title: "Framing error",
      unit: "px",
      lines: errors,
      levels: [{ at: aim, name: limit }],
      bands: [toleranceBand(own, aim, limit)],
      words: `How far the subject is off its framing over the move: ${readPx(off)} at most, ${limit}.`,
    },
  ];
}

const nothing = ({ open }: LineStore): Float64Array => new Float64Array(2 * open.take.count).fill(NaN);

function errorOf(store: LineStore) {
  const { open } = store;
  return store.line("framing error", () => {
    const { t, count, wanted, reached } = open.take;
    const [w, h] = open.stage.optics.resolution;
    const values = new Float64Array(count).fill(NaN);
    for (let i = 0; wanted && reached && i < count; i++) {
      const x = (reached[2 * i] - wanted[2 * i]) * w;
      values[i] = Math.hypot(x, (reached[2 * i + 1] - wanted[2 * i + 1]) * h);
    }
    return samplesOf(t, values);
  });
}

function toleranceBand(store: LineStore, most: number, name: string) {
  const ends = Float64Array.of(0, store.open.stage.duration);
  const level = (at: number) => store.line(`level ${at}`, () => samplesOf(ends, Float64Array.of(at, at)));
  return { low: level(0), high: level(most), name };
}

/** How far the subject is and where it is sharp, all from the sensor plane as focus is written. */
export function focusGraph({ own, ghost }: Stores, palette: Palette): CurveSpec {
  const title = "Focus, from the sensor plane";
  if (!own.open.take.focus.some(Number.isFinite)) return emptyCurve(title, "No key gives a focus.");
  const subjectLook = aloneLook(palette);
  const focusLook = { ...lineLook(0, palette), dash: [8, 3] };
  const edgeLook = { stroke: palette.css.quiet, dash: [3, 3] };
  const { soft } = focusColumns(own);
  const of = (store: LineStore, name: keyof FocusColumns) =>
    store.line(name, () => samplesOf(store.open.take.t, focusColumns(store)[name]));
  const read = (distance: number): string => (distance === Infinity ? "∞" : distanceReading(distance));
  const focus: Line = { name: "focus", ...focusLook, extents: of(own, "focus"), read };
  const subject: Line = {
    name: "subject",
    ...subjectLook,
    extents: of(own, "subject"),
    read,
    badness: (_, sample) => soft[sample],
  };
  const lines: Line[] = [
    subject,
    focus,
    { name: "near", ...edgeLook, extents: of(own, "near"), read },
    { name: "far", ...edgeLook, extents: of(own, "far"), read },
  ];
  if (ghost) {
    lines.push(ghostOf({ ...subject, extents: of(ghost, "subject") }, subjectLook, palette));
    lines.push(ghostOf({ ...focus, extents: of(ghost, "focus") }, focusLook, palette));
  }
  const spans = [subject, focus].map(({ name, extents }) => {
    const { low, high } = wholeExtent(extents);
    return `${name} from ${read(low)} to ${read(high)}`;
  });
  // Far beyond what is looked at nothing is to be read, and the far end soon is infinitely far.
  const most = Math.max(...[subject, focus].map(({ extents }) => wholeExtent(extents).high || 0));
  return {
    title,
    unit: "m",
    lines,
    levels: [],
    bands: [{ low: of(own, "near"), high: of(own, "far"), name: "sharp" }],
    ceiling: most * 1.6,
    words: `Distances over the move: ${spans.join(", ")}; with the depth of field about the focus.`,
  };
}

interface FocusColumns {
  readonly subject: Float64Array;
  readonly focus: Float64Array;
  readonly near: Float64Array;
  readonly far: Float64Array;
  /** How wide a point of the subject is pictured, as a share of the circle of confusion. */
  readonly soft: Float64Array;
}

const focusColumns = (store: LineStore): FocusColumns => store.base("focus", () => makeFocusColumns(store.open));

function makeFocusColumns({ take, stage }: OpenTake): FocusColumns {
  const column = (): Float64Array => new Float64Array(take.count).fill(NaN);
  const out = { subject: column(), focus: column(), near: column(), far: column(), soft: column() };
  const sharp = createSharpness();
  let span = 0;
  for (let i = 0; i < take.count; i++) {
    const [focal, focus] = [take.focal[i], take.focus[i]];
    const iris = take.iris?.[i] ?? stage.optics.iris;
    const offset = sensorOffset(stage.optics, focal, focus);
    sharpAt(stage.optics, focal, iris, focus, sharp);
    out.focus[i] = focus;
    out.near[i] = sharp.near + offset;
    out.far[i] = sharp.far + offset;
    while (span + 1 < stage.aims.length && stage.aims[span].to < take.t[i]) span += 1;
    const aim = stage.aims[span] as OpenTake["stage"]["aims"][number] | undefined;
    if (!aim || take.t[i] < aim.from || aim.to < take.t[i]) continue;
    const depth = depthOf(take, i, aim.target, stage.targets.length);
    out.subject[i] = depth + offset;
    out.soft[i] = blurCircle(focal, iris, sharp.focused, depth) / stage.optics.coc;
  }
  return out;
}

/** Distance of a target along the view [m]: along the first axis of the camera's quaternion. */
function depthOf({ rotation, position, targets }: OpenTake["take"], i: number, target: number, count: number): number {
  const [x, y, z, w] = rotation.subarray(4 * i, 4 * i + 4);
  const at = 3 * (i * count + target);
  return (
    (1 - 2 * (y * y + z * z)) * (targets[at] - position[3 * i]) +
    2 * (x * y + w * z) * (targets[at + 1] - position[3 * i + 1]) +
    2 * (x * z - w * y) * (targets[at + 2] - position[3 * i + 2])
  );
}
