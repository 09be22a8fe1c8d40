import { runToEnd } from "../../core/base/task.ts";
import { clearanceCurves } from "../../core/checks/space/clearance-curves.ts";
import { drawGraph, type Graph, type GraphLine } from "../../core/draw/graph.ts";
import { depthOfField } from "../../core/lens/depth-of-field.ts";
import type { Instant, Trajectory } from "../../core/motion/trajectory.ts";

/** Instants of a curve; clearance measures every pair of bodies at each. */
const EVENLY = 160;
const CLEARANCE = 60;

type Kind = GraphLine["kind"];
/** What a curve shows at an instant. */
type Reading = (instant: Instant) => number;

/** Graphs of a move over time, as SVGs: shares of limits, framing error, focus, clearance; those of before lie dashed behind. */
export function moveGraphs(now: Trajectory, before?: Trajectory): readonly string[] {
  const until = Math.max(now.duration, before?.duration ?? 0);
  const shared = { keys: now.move.keys.map(({ time }) => time), until };
  const sides: readonly Side[] = [
    { trajectory: now, kind: "now" },
    ...(before ? [{ trajectory: before, kind: "before" } as const] : []),
  ];
  const graphs = [...shares(sides, shared), ...framing(sides, shared), ...focus(sides, shared), ...clearance(sides, shared)]; // prettier-ignore
  return graphs.map(drawGraph);
}

interface Side {
  readonly trajectory: Trajectory;
  readonly kind: Exclude<Kind, "edge">;
}
type Shared = Pick<Graph, "keys" | "until">;

/** The highest of an axis's shares of speed, acceleration and jerk, for each axis that moves and has limits. */
function shares(sides: readonly Side[], shared: Shared): Graph[] {
  const names = sides[0].trajectory.axes.map(({ name }) => name);
  return names.flatMap((name) => {
    const lines = sides.flatMap(({ trajectory, kind }) => {
      const index = trajectory.axes.findIndex((axis) => axis.name === name);
      if (index < 0 || trajectory.sources[index] === "constant") return [];
      const { speed, accel, jerk } = trajectory.axes[index].limits;
      if (speed === undefined && accel === undefined && jerk === undefined) return [];
      return [line(trajectory, kind, (at) => 100 * Math.max(share(at.speed[index], speed), share(at.accel[index], accel), share(at.jerk[index], jerk)))]; // prettier-ignore
    });
    return lines.length === 0 ? [] : [{ title: `${name}: highest share of its limits`, unit: "%", limit: 100, lines, ...shared }]; // prettier-ignore
  });
}

const share = (value: number, limit: number | undefined): number =>
  limit === undefined || !(limit > 0) ? 0 : Math.abs(value) / limit;

/** Between where what is aimed at is to be in the picture and where it is. */
function framing(sides: readonly Side[], shared: Shared): Graph[] {
  const lines = sides.map(({ trajectory, kind }) => {
    const [across, down] = trajectory.move.optics.resolution;
    return line(trajectory, kind, ({ wanted, reached }) =>
      Math.hypot((reached[0] - wanted[0]) * across, (reached[1] - wanted[1]) * down),
    );
  });
  return some({ title: "Framing error, captured picture", unit: "px", least: 1, lines, ...shared });
}

/** Distances from the entrance pupil: focus and the ends of the depth of field, which end where they are infinite. */
function focus(sides: readonly Side[], shared: Shared): Graph[] {
  const lines = sides.flatMap(({ trajectory, kind }) => {
    const { optics } = trajectory.move;
    const plane = ({ focus: at, pupil }: Instant): number => at - optics.flange - pupil;
    const depth =
      (end: "near" | "far"): Reading =>
      (at) =>
        depthOfField(at.focal, at.iris, optics.coc, plane(at))[end];
    const edges =
      kind === "before" ? [] : (["near", "far"] as const).map((end) => line(trajectory, "edge", depth(end)));
    return [line(trajectory, kind, plane), ...edges];
  });
  const [first] = lines;
  // Behind a subject near the hyperfocal distance everything is sharp: that end would flatten all others.
  const top = 3 * Math.max(...first.values.filter(Number.isFinite), 0);
  const bounded = lines.map((one) => ({
    ...one,
    values: one.values.map((value) => (value > top ? Number.NaN : value)),
  }));
  return some({ title: "Focus distance from the entrance pupil, with depth of field", unit: "m", lines: bounded, ...shared }); // prettier-ignore
}

function clearance(sides: readonly Side[], shared: Shared): Graph[] {
  const found = sides.flatMap(({ trajectory, kind }) => {
    const times = Float64Array.from({ length: CLEARANCE + 1 }, (_, i) => (trajectory.duration * i) / CLEARANCE);
    return runToEnd(clearanceCurves(trajectory, times)).map((curve) => ({ curve, kind }));
  });
  const kinds = [...new Set(found.map(({ curve }) => curve.to))];
  const of = { set: "the set", people: "people", floor: "the floor", itself: "itself" } as const;
  return kinds.flatMap((to) => {
    const own = found.filter(({ curve }) => curve.to === to);
    const lines = own.map(({ curve, kind }) => ({ name: kind, kind, t: [...curve.t], values: [...curve.distance] }));
    const title = `Clearance of the rig to ${of[to]}, at ${CLEARANCE + 1} instants`;
    return some({ title, unit: "m", limit: own[0].curve.limit, lines, ...shared });
  });
}

const some = (graph: Graph): Graph[] => (graph.lines.some(({ values }) => values.some(Number.isFinite)) ? [graph] : []);

function line(trajectory: Trajectory, kind: Kind, reading: Reading): GraphLine {
  const t = Array.from({ length: EVENLY + 1 }, (_, i) => (trajectory.duration * i) / EVENLY);
  const instant = trajectory.createInstant();
  const values = t.map((time) => {
    trajectory.at(time, instant, "right");
    return reading(instant);
  });
  return { name: kind, kind, t, values };
}
