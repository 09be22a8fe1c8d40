import { frameAt } from "../../core/base/rate.ts";
import { formatTimecode } from "../../core/base/timecode.ts";
import { formatQuantity } from "../../core/base/units.ts";
import { percent, seconds } from "../../core/checks/figures.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import { htmlTable, words } from "./page-shell.ts";

/** Axes of one table: more of them don't fit on a sheet of paper. */
const AXES_ABREAST = 6;

/** What is solved at each key, as HTML: a table of the camera, and as many of the axes as it takes to print them whole. */
export function keyTables(trajectory: Trajectory): string {
  const { move, axes } = trajectory;
  const instant = trajectory.createInstant();
  const rows = move.keys.map((key, i) => {
    trajectory.at(key.time, instant, "right");
    const shares = [...instant.reached].every(Number.isFinite) ? [...instant.reached].map(percent).join(", ") : "";
    return {
      key: key.label,
      time: seconds(key.time),
      camera: [
        formatTimecode(move.startFrame + frameAt(move.rate, key.time), move.rate),
        [...instant.position].map((part) => formatQuantity(part, "length")).join(", "),
        key.aim?.kind === "target" ? move.targets[key.aim.target].name : "",
        shares,
        Number.isFinite(instant.focus) ? formatQuantity(instant.focus, "length") : "",
        trajectory.keys[i].status === "converged" ? "" : "not solved: the nearest found",
      ],
      axes: axes.map(({ type }, axis) => formatQuantity(instant.value[axis], type === "rotary" ? "angle" : "length")),
    };
  });
  const tables = [
    table(
      "Camera at the keys",
      ["timecode", "entrance pupil", "target", "framing", "focus", "note"],
      rows.map((row) => ({ ...row, cells: row.camera })),
    ),
  ];
  for (let from = 0; from < axes.length; from += AXES_ABREAST) {
    const part = <T>(all: readonly T[]): readonly T[] => all.slice(from, from + AXES_ABREAST);
    const names = part(axes).map(({ name }) => name);
    const label = axes.length > AXES_ABREAST ? `Axes at the keys: ${names.join(", ")}` : "Axes at the keys";
    tables.push(
      table(
        label,
        names,
        rows.map((row) => ({ ...row, cells: part(row.axes) })),
      ),
    );
  }
  return tables.join("\n");
}

interface Row {
  readonly key: string;
  readonly time: string;
  readonly cells: readonly string[];
}

/** Columns in which no key has anything are left out. */
function table(label: string, head: readonly string[], rows: readonly Row[]): string {
  const used = head.map((_, column) => rows.some(({ cells }) => cells[column] !== ""));
  const kept = <T>(cells: readonly T[]): T[] => cells.filter((_, column) => used[column]);
  const lines = rows.map(({ key, time, cells }) => [key, time, ...kept(cells)].map(words));
  return htmlTable(label, ["key", "time", ...kept(head)], lines);
}
