// Bodies on rigs and in sets for tests, and distances found without the engine's own search.
import { runToEnd } from "../../core/base/task.ts";
import type { Random } from "../../core/base/random.ts";
import { applyPose, composePoses, invertPose, type Pose } from "../../core/base/pose.ts";
import { quatAbout, quatFromRollPitchYaw } from "../../core/base/quat.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import { linkPose } from "../../core/rig/bodies.ts";
import { baseFrame, compileRig, createPoseBuffer, forward } from "../../core/rig/chain.ts";
import type { Body, Solid } from "../../core/rig/resolved-rig.ts";

export const body = (
  name: string,
  link: number,
  solid: Solid,
  at: Vec3 = [0, 0, 0],
  more: Partial<Body> = {},
): Body => ({
  name,
  link,
  pose: { at, turn: [0, 0, 0, 1] },
  solid,
  origin: 0,
  ...more,
});

export const planned = (move: ResolvedMove): Trajectory => runToEnd(planTrajectory(move));

export function randomSolid(random: Random, size: number): Solid {
  const some = (): number => size * (0.2 + 0.8 * random());
  switch (Math.floor(4 * random())) {
    case 0:
      return { shape: "box", size: [some(), some(), some()] };
    case 1:
      return { shape: "cylinder", radius: some() / 2, height: some() };
    case 2: {
      const radius = some() / 4;
      return { shape: "capsule", radius, height: 2 * radius + some() };
    }
    default:
      return { shape: "sphere", radius: some() / 2 };
  }
}

export function randomPose(random: Random, size: number): Pose {
  const part = (half: number): number => half * (2 * random() - 1);
  return { at: [part(size), part(size), part(size)], turn: quatFromRollPitchYaw(part(3), part(1.5), part(3)) };
}

/** Where a body is in the set for values of the axes, by composing poses one by one. */
export function bodyPose(move: ResolvedMove, owner: Body, values: ArrayLike<number>): Pose {
  if (owner.table !== undefined) {
    const { at, along } = move.turntables[owner.table];
    const angle = values[move.axes.findIndex((axis) => axis.turntable === owner.table)];
    return composePoses({ at, turn: quatAbout(along, angle) }, owner.pose);
  }
  if (!move.rig.bodies.includes(owner)) return owner.pose;
  const chain = compileRig(move.rig);
  const base = baseFrame(move.base);
  const pose = createPoseBuffer(chain);
  const q = Float64Array.from(
    move.rig.joints,
    (_, joint) => values[move.axes.findIndex((axis) => axis.joint === joint)] ?? 0,
  );
  forward(chain, base, q, pose);
  return composePoses(linkPose(base, pose, owner.link), owner.pose);
}

/** Points of the surface of a solid, each face with corners and edges, about `count` along each side. */
export function surfacePoints(solid: Solid, count: number): Vec3[] {
  const shares = Array.from({ length: count + 1 }, (_, i) => i / count);
  const turns = Array.from({ length: 4 * count }, (_, i) => (Math.PI * i) / (2 * count));
  switch (solid.shape) {
    case "box": {
      const [x, y, z] = solid.size;
      return shares.flatMap((u) =>
        shares.flatMap((v) =>
          [-0.5, 0.5].flatMap((side): Vec3[] => [
            [side * x, (u - 0.5) * y, (v - 0.5) * z],
            [(u - 0.5) * x, side * y, (v - 0.5) * z],
            [(u - 0.5) * x, (v - 0.5) * y, side * z],
          ]),
        ),
      );
    }
    case "cylinder":
      return turns.flatMap((angle) =>
        shares.flatMap((u): Vec3[] => [
          [solid.radius * Math.cos(angle), solid.radius * Math.sin(angle), (u - 0.5) * solid.height],
          [u * solid.radius * Math.cos(angle), u * solid.radius * Math.sin(angle), solid.height / 2],
          [u * solid.radius * Math.cos(angle), u * solid.radius * Math.sin(angle), -solid.height / 2],
        ]),
      );
    case "capsule":
    case "sphere": {
      const half = solid.shape === "sphere" ? 0 : solid.height / 2 - solid.radius;
      const ball = turns.flatMap((angle) =>
        shares.map((u): Vec3 => {
          const up = Math.PI * (u - 0.5);
          return [Math.cos(up) * Math.cos(angle), Math.cos(up) * Math.sin(angle), Math.sin(up)];
        }),
      );
      const barrel = turns.flatMap((angle) =>
        shares.map((u): Vec3 => [solid.radius * Math.cos(angle), solid.radius * Math.sin(angle), (2 * u - 1) * half]),
      );
      const caps = ball.map(([x, y, z]): Vec3 => [
        solid.radius * x,
        solid.radius * y,
        solid.radius * z + (z < 0 ? -half : half),
      ]);
      return [...barrel, ...caps];
    }
    case "mesh":
      return [];
  }
}

/** Distance of a point from a solid in closed form, both in the solid's own frame; below 0 inside [m]. */
export function pointDistance(solid: Solid, [x, y, z]: Vec3): number {
  switch (solid.shape) {
    case "box": {
      const off = [x, y, z].map((part, axis) => Math.abs(part) - solid.size[axis] / 2);
      return Math.hypot(...off.map((part) => Math.max(0, part))) + Math.min(0, Math.max(...off));
    }
    case "cylinder": {
      const off = [Math.hypot(x, y) - solid.radius, Math.abs(z) - solid.height / 2];
      return Math.hypot(...off.map((part) => Math.max(0, part))) + Math.min(0, Math.max(...off));
    }
    case "capsule": {
      const half = solid.height / 2 - solid.radius;
      return Math.hypot(x, y, z - Math.min(half, Math.max(-half, z))) - solid.radius;
    }
    case "sphere":
      return Math.hypot(x, y, z) - solid.radius;
    case "mesh":
      return NaN;
  }
}

/** Least distance of sampled points of the surface of a body from another one: never below the true distance of bodies that are apart. */
export function sampledDistance(inSet: Pose, b: Solid, bInSet: Pose, points: readonly Vec3[]): number {
  const back = composePoses(invertPose(bInSet), inSet);
  return points.reduce((least, point) => Math.min(least, pointDistance(b, applyPose(back, point))), Infinity);
}
