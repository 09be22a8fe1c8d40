import type { OriginId } from "../base/origin-id.ts";
import type { ResolvedKey, ResolvedMove, ResolvedWayBack } from "./resolved-move.ts";
import type { Trajectory } from "./trajectory.ts";

/**
 * A move of axes alone from the last values of a take to its first: no aim, no camera points, so followers follow and the
 * head is turned like any other axis. Its keys are called as those of the take that they stand for.
 */
export function directMove(take: Trajectory, way: Extract<ResolvedWayBack, { readonly kind: "direct" }>): ResolvedMove {
  const { move, duration } = take;
  const end = { ...keyOf(take, duration, 0, way.timeOrigin), label: move.keys[move.keys.length - 1].label };
  const start = { ...keyOf(take, 0, way.time, way.timeOrigin), label: move.keys[0].label };
  const between = way.via.map(({ at, axes, origin }, index): ResolvedKey => {
    const label = `\`via\` ${index + 1} of \`return\``;
    const rest = { stop: false, framingOrigin: 0, origin, timeOrigin: origin };
    return { label, time: at * way.time, axes, ...rest };
  });
  return { ...move, keys: [end, ...between, start], speed: 1, near: {}, passes: [], expectations: [] };
}

/** All that drives the rig at `t` of the take, as a key at rest at `time` of the way back. */
function keyOf(take: Trajectory, t: number, time: number, origin: OriginId): ResolvedKey {
  const instant = take.createInstant();
  take.poseAt(t, instant);
  const axes = take.axes.flatMap(({ role }, axis) =>
    role === "driven" || role === "turntable" ? [{ axis, value: instant.value[axis], origin: 0 }] : [],
  );
  const { low, high } = take.move.optics.focal;
  return {
    label: "",
    time,
    stop: true,
    axes,
    framingOrigin: 0,
    ...(low < high && { zoom: { focal: instant.focal, origin: 0 } }),
    origin,
    timeOrigin: origin,
  };
}
