import { frameAt } from "../core/base/rate.ts";
import { formatTimecode } from "../core/base/timecode.ts";
import type { Take } from "../core/motion/take.ts";
import type { Trajectory } from "../core/motion/trajectory.ts";
import { ANSWER_VERSION } from "./json.ts";

interface AxisState {
  readonly value: number;
  readonly speed: number;
  readonly accel: number;
  readonly jerk: number;
}

/** One instant as `solve` answers it: metres, degrees, focal length in mm, times played. */
export interface SolveSample {
  readonly t: number;
  /** The frame that shows `t`, counted from 0. */
  readonly frame: number;
  readonly timecode: string;
  readonly axes: Readonly<Record<string, AxisState>>;
  readonly camera: { readonly position: readonly number[]; readonly rotation: readonly number[] };
  readonly lens: { readonly focal: number; readonly focus: number | null };
  readonly targets: Readonly<Record<string, { readonly framing: readonly number[] | null; readonly distance: number }>>;
}

export interface SolveAnswer {
  readonly version: number;
  readonly rate: { readonly num: number; readonly den: number };
  readonly duration: number;
  readonly samples: readonly SolveSample[];
}

/** A take in the units and names of the command line's answer. */
export function solveAnswer({ move, duration, axes }: Trajectory, take: Take): SolveAnswer {
  const { num, den } = move.rate;
  const degree = 180 / Math.PI;
  const samples = Array.from(take.t, (t, i): SolveSample => {
    const frame = frameAt(move.rate, t);
    const axisState = (axis: number): AxisState => {
      const at = i * axes.length + axis;
      const unit = axes[axis].type === "rotary" ? degree : 1;
      return {
        value: take.value[at] * unit,
        speed: take.speed[at] * unit,
        accel: take.accel[at] * unit,
        jerk: take.jerk[at] * unit,
      };
    };
    return {
      t,
      frame,
      timecode: formatTimecode(move.startFrame + frame, move.rate),
      axes: Object.fromEntries(axes.map(({ name }, axis) => [name, axisState(axis)])),
      camera: {
        position: Array.from(take.position.subarray(3 * i, 3 * i + 3)),
        rotation: Array.from(take.rotation.subarray(4 * i, 4 * i + 4)),
      },
      lens: { focal: take.focal[i] * 1000, focus: finiteOrNull(take.focus[i]) },
      targets: Object.fromEntries(
        move.targets.map(({ name }, m) => [name, targetState(take, i, m, move.targets.length)]),
      ),
    };
  });
  return { version: ANSWER_VERSION, rate: { num, den }, duration, samples };
}

function targetState(take: Take, i: number, m: number, count: number): SolveSample["targets"][string] {
  const at = i * count + m;
  const framing = [take.framing[2 * at], take.framing[2 * at + 1]];
  return { framing: framing.some((part) => !Number.isFinite(part)) ? null : framing, distance: take.distance[at] };
}

const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** One row a sample; empty cells where there is no value. Names as in the JSON, joined by points. */
export function renderCsv(answer: SolveAnswer): string {
  const rows = answer.samples.map((sample) => flatten(sample));
  const head = rows.length === 0 ? [] : rows[0].map(([name]) => name);
  const lines = [head, ...rows.map((row) => row.map(([, value]) => String(value ?? "")))];
  return `${lines.map((line) => line.map(csvCell).join(",")).join("\r\n")}\r\n`;
}

function csvCell(text: string): string {
  // A spreadsheet would run a cell that begins like a formula; a number may begin with a minus.
  const inert = /^[=+@\t]|^-(?!\d|\.)/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}

type Cell = readonly [string, number | string | null];

function flatten({ t, frame, timecode, axes, camera, lens, targets }: SolveSample): Cell[] {
  const axisCells = Object.entries(axes).flatMap(([name, { value, speed, accel, jerk }]): Cell[] => [
    [name, value],
    [`${name}.speed`, speed],
    [`${name}.accel`, accel],
    [`${name}.jerk`, jerk],
  ]);
  const targetCells = Object.entries(targets).flatMap(([name, { framing, distance }]): Cell[] => [
    [`${name}.across`, framing && framing[0]],
    [`${name}.down`, framing && framing[1]],
    [`${name}.distance`, distance],
  ]);
  const cameraCells: Cell[] = [
    ...["x", "y", "z"].map((axis, i): Cell => [`camera.${axis}`, camera.position[i]]),
    ...["qx", "qy", "qz", "qw"].map((axis, i): Cell => [`camera.${axis}`, camera.rotation[i]]),
  ];
  const lensCells: Cell[] = [
    ["focal", lens.focal],
    ["focus", lens.focus],
  ];
  const timeCells: Cell[] = [
    ["t", t],
    ["frame", frame],
    ["timecode", timecode],
  ];
  return [...timeCells, ...axisCells, ...cameraCells, ...lensCells, ...targetCells];
}

/** A table for people: time and the axes' values, then the camera, the lens and the framing of each target. */
export function renderSamples(answer: SolveAnswer): string {
  const rows = answer.samples.map((sample) => [
    sample.timecode,
    `${sample.t.toFixed(3)} s`,
    ...Object.values(sample.axes).map(({ value }) => value.toFixed(3)),
    ...sample.camera.position.map((part) => part.toFixed(3)),
    sample.lens.focal.toFixed(1),
    sample.lens.focus === null ? "-" : sample.lens.focus.toFixed(3),
    ...Object.values(sample.targets).map(({ framing }) =>
      framing ? framing.map((part) => part.toFixed(3)).join(" ") : "behind",
    ),
  ]);
  const first = answer.samples[0];
  const head = [
    "timecode",
    "time",
    ...Object.keys(first?.axes ?? {}),
    ...["camera x", "camera y", "camera z", "focal mm", "focus m"],
    ...Object.keys(first?.targets ?? {}),
  ];
  return alignColumns([head, ...rows]);
}

/** Pads the cells of each column to its widest, to the right. */
export function alignColumns(rows: readonly (readonly string[])[]): string {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  const line = (row: readonly string[]): string => row.map((cell, column) => cell.padStart(widths[column])).join("  ");
  return `${rows.map(line).join("\n")}\n`;
}
