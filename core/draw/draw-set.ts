import { applyPose, composePoses } from "../base/pose.ts";
import { IDENTITY_QUAT, type Quat } from "../base/quat.ts";
import { cross, dot, type Vec3 } from "../base/vec3.ts";
import { lineOn, type Eye } from "./eye.ts";
import type { Shot } from "./shot.ts";
import { tag, way } from "./svg.ts";

/** Most lines of the grid along one direction; a larger floor has a wider grid. */
const MOST_LINES = 40;
/** Radius of a turntable's ring when nothing stands on it, and what it is larger than what does [m]. */
const TABLE_RADIUS = 0.15;
const TABLE_MARGIN = 0.03;
const RING_STEPS = 72;

/** A grid on the floor, round whole metres. */
export interface FloorGrid {
  readonly svg: string;
  /** Between two lines [m]. */
  readonly step: number;
}

/** @param low, high Corners of the floor that is covered [m]. */
export function drawGrid(eye: Eye, floor: number, low: readonly number[], high: readonly number[]): FloorGrid {
  const wide = Math.max(high[0] - low[0], high[1] - low[1]);
  const step = [1, 2, 5, 10, 20, 50, 100].find((one) => wide / one <= MOST_LINES) ?? Math.ceil(wide / MOST_LINES);
  const from = [0, 1].map((k) => Math.floor(low[k] / step));
  const to = [0, 1].map((k) => Math.ceil(high[k] / step));
  const line = (a: Vec3, b: Vec3): string => way(lineOn(eye, a, b) ?? []);
  const lines: string[] = [];
  for (let x = from[0]; x <= to[0]; x++) lines.push(line([x * step, from[1] * step, floor], [x * step, to[1] * step, floor])); // prettier-ignore
  for (let y = from[1]; y <= to[1]; y++) lines.push(line([from[0] * step, y * step, floor], [to[0] * step, y * step, floor])); // prettier-ignore
  return { svg: tag("path", { class: "line grid", d: lines.join("") }), step };
}

/** Turntables as rings, with a line to where their x is, so that one sees how they stand. */
export function drawTables(eye: Eye, { move, tables }: Shot): string {
  return move.turntables
    .map((table, index) => {
      const riders = move.targets.filter(({ on }) => on === index);
      const reach = Math.max(0, ...riders.map(({ at }) => Math.hypot(...cross(at, table.along))));
      const radius = reach > 0 ? reach + TABLE_MARGIN : TABLE_RADIUS;
      const stand = composePoses(tables[index], { at: [0, 0, 0], turn: upTo(table.along) });
      const points = Array.from({ length: RING_STEPS + 1 }, (_, k): Vec3 => {
        const angle = (2 * Math.PI * k) / RING_STEPS;
        return applyPose(stand, [radius * Math.cos(angle), radius * Math.sin(angle), 0]);
      });
      const arcs = points.slice(1).map((point, k) => way(lineOn(eye, points[k], point) ?? []));
      const pointer = way(lineOn(eye, applyPose(stand, [0.6 * radius, 0, 0]), points[0]) ?? []);
      return tag("path", { class: "line ring", d: arcs.join("") + pointer });
    })
    .join("\n");
}

/** The least turn that brings z along a unit vector. */
function upTo(along: Vec3): Quat {
  const w = 1 + dot([0, 0, 1], along);
  if (w < 1e-9) return [1, 0, 0, 0];
  const [x, y, z] = cross([0, 0, 1], along);
  const size = Math.hypot(x, y, z, w);
  return size > 0 ? [x / size, y / size, z / size, w / size] : IDENTITY_QUAT;
}
