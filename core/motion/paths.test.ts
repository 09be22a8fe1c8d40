import assert from "node:assert/strict";
import { randomPathMove } from "../../test/support/path-moves.ts";
import { runToEnd } from "../base/task.ts";
import { cross, dot, length, scale, subtract, type Vec3 } from "../base/vec3.ts";
import { leavesAt } from "./key-timing.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

const TABLES = ["value", "speed", "accel", "jerk"] as const;
const SEEDS = Array.from({ length: 24 }, (_, i) => 100 + i);

/** Moves whose every way can be followed; the others say where not, and are counted. */
const planned = SEEDS.map((seed) => {
  const { move } = randomPathMove(seed);
  const trajectory = runToEnd(planTrajectory(move));
  const followed =
    trajectory.paths.every(({ kind }) => kind !== "out-of-reach" && kind !== "branch-change") &&
    trajectory.keys.every(({ status }) => status === "converged");
  return { seed, move, trajectory, followed };
});
const followed = planned.filter((one) => one.followed);

function look(trajectory: Trajectory, t: number, side: "left" | "right" = "right"): Instant {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant, side);
  return instant;
}

const place = ({ position: [x, y, z] }: Instant): Vec3 => [x, y, z];
const targetOf = ({ targets }: Instant, target: number): Vec3 =>
  [0, 1, 2].map((axis) => targets[3 * target + axis]) as unknown as Vec3;
const pointOf = (move: ResolvedMove, key: number): Vec3 => {
  const { camera } = move.keys[key];
  assert.ok(camera?.kind === "at");
  return camera.at;
};

/** How far a place is off the circle through three points: off its plane, and off its radius. */
function offCircle(p: Vec3, a: Vec3, b: Vec3, c: Vec3): number {
  const normal = cross(subtract(b, a), subtract(c, a));
  const unit = scale(normal, 1 / length(normal));
  // The centre is where the planes that halve two chords meet the circle's own: solved by Cramer's rule.
  const rows = [subtract(b, a), subtract(c, a), unit];
  const right = [(dot(b, b) - dot(a, a)) / 2, (dot(c, c) - dot(a, a)) / 2, dot(unit, a)];
  const minors = [cross(rows[1], rows[2]), cross(rows[2], rows[0]), cross(rows[0], rows[1])];
  const sum = [0, 1, 2].map((axis) => minors.reduce((part, minor, row) => part + right[row] * minor[axis], 0));
  const centre = scale(sum as unknown as Vec3, 1 / dot(rows[0], minors[0]));
  const from = subtract(p, centre);
  return Math.hypot(dot(from, unit), length(from) - length(subtract(a, centre)));
}

function offLine(p: Vec3, a: Vec3, b: Vec3): number {
  return length(cross(subtract(p, a), subtract(b, a))) / length(subtract(b, a));
}

/** From a target: angle about z, distance from it and height, which an arc about it joins evenly. */
function offArcAbout(trajectory: Trajectory, target: number, from: number, to: number, now: Instant): number {
  const [a, p, b] = [look(trajectory, from), now, look(trajectory, to, "left")].map((instant) => {
    const [x, y, z] = subtract(place(instant), targetOf(instant, target));
    return { angle: Math.atan2(y, x), radius: Math.hypot(x, y), height: z };
  });
  const turn = (angle: number): number => Math.atan2(Math.sin(angle), Math.cos(angle));
  const share = turn(p.angle - a.angle) / turn(b.angle - a.angle);
  const radius = a.radius + share * (b.radius - a.radius);
  const height = a.height + share * (b.height - a.height);
  return Math.hypot(p.radius - radius, p.height - height);
}

describe("a camera on a path", () => {
  it("is led where the rig can be led: the others say where not", () => {
    assert.ok(20 <= followed.length, `${followed.length} of ${planned.length}`);
    for (const { seed, trajectory } of planned.filter((one) => !one.followed)) {
      const said = trajectory.paths.some(({ kind }) => kind === "out-of-reach" || kind === "branch-change");
      assert.ok(said || trajectory.keys.some(({ status }) => status !== "converged"), `seed ${seed}`);
    }
  });

  it("stands on the line, the circle or the arc about its target to 1e-9 m at fiftieths of a frame", () => {
    let looked = 0;
    for (const { seed, move, trajectory } of followed) {
      const room = trajectory.createInstant();
      move.keys.forEach((key, i) => {
        const { path } = key;
        if (!path) return;
        const [from, to] = [leavesAt(move.keys[i - 1]), key.time];
        // Of a rounding only its ends are on a way; they are as far from the corner as it reaches.
        const isRounded = (p: Vec3): boolean =>
          [i - 1, i].some((one) => {
            const { blend } = move.keys[one];
            return blend !== undefined && length(subtract(p, pointOf(move, one))) < 1.02 * blend.length;
          });
        // A fiftieth of a frame at 25 frames a second, spread over the way.
        for (let n = 0; n < 40; n++) {
          const t = from + Math.floor((((n * 0.618034) % 1) * (to - from)) / 0.0008) * 0.0008;
          trajectory.at(t, room);
          assert.equal(room.status, "converged", `seed ${seed} at ${t}`);
          if (isRounded(place(room))) continue;
          const [a, b] = [pointOf(move, i - 1), pointOf(move, i)];
          const isFree = !move.keys[i - 1].blend && !key.blend;
          const off =
            path.kind === "line"
              ? offLine(place(room), a, b)
              : path.kind === "arc-via"
                ? offCircle(place(room), a, path.via, b)
                : isFree
                  ? offArcAbout(trajectory, path.target, from, to, room)
                  : 0;
          assert.ok(off < 1e-9, `seed ${seed} key ${i} ${path.kind} at ${t}: ${off}`);
          looked += 1;
        }
      });
    }
    assert.ok(1000 < looked, `${looked}`);
  });

  it("keeps the aim at every instant", () => {
    for (const { trajectory } of followed) {
      const room = trajectory.createInstant();
      for (let n = 0; n <= 50; n++) {
        trajectory.at((trajectory.duration * n) / 50, room);
        for (const axis of [0, 1]) assert.ok(Math.abs(room.reached[axis] - room.wanted[axis]) < 1e-9);
      }
    }
  });

  it("moves its axes with the derivatives that difference quotients have", () => {
    const h = 1e-3;
    for (const { seed, trajectory } of followed) {
      for (let n = 0; n < 12; n++) {
        const t = trajectory.duration * (((n + 0.5) * 0.618034) % 1);
        if (trajectory.knots.some((knot) => Math.abs(knot - t) < 2 * h)) continue;
        const here = look(trajectory, t);
        const [a, b, c, d] = [t + h, t - h, t + h / 2, t - h / 2].map((time) => look(trajectory, time));
        for (let k = 0; k < 3; k++) {
          const [table, next] = [TABLES[k], TABLES[k + 1]];
          here[next].forEach((given, i) => {
            // Richardson's rule on central differences.
            const quotient = ((4 * (c[table][i] - d[table][i])) / h - (a[table][i] - b[table][i]) / (2 * h)) / 3;
            const allowed = 2e-6 * (1 + Math.abs(quotient));
            assert.ok(Math.abs(quotient - given) < allowed, `seed ${seed} ${next} ${i} at ${t}: ${given}, ${quotient}`);
          });
        }
      }
    }
  });

  it("moves its axes without a step of value, speed or acceleration at any knot, roundings and passed keys included", () => {
    for (const { seed, trajectory } of followed) {
      // What goes along with a target that moves where the camera is to rest has to jump, and says so.
      const parting = trajectory.paths.filter((note) => note.kind === "corner" && note.joint.kind === "parting");
      for (const knot of trajectory.knots.slice(1, -1)) {
        if (parting.some(({ from }) => Math.abs(from - knot) < 1e-9)) continue;
        const [left, right] = [look(trajectory, knot, "left"), look(trajectory, knot)];
        for (const table of ["value", "speed", "accel"] as const) {
          left[table].forEach((value, i) => {
            const step = Math.abs(value - right[table][i]);
            assert.ok(step < 1e-8 * (1 + Math.abs(value)), `seed ${seed} ${table} ${i} at ${knot}: ${step}`);
          });
        }
      }
    }
  });

  it("has no extreme that the checker misses", () => {
    for (const { seed, trajectory } of followed.slice(0, 8)) {
      const room = trajectory.createInstant();
      for (let axis = 0; axis < trajectory.axes.length; axis++) {
        const bounds = ([1, 2, 3] as const).map((order) => trajectory.extremes(axis, order));
        for (let n = 0; n <= 200; n++) {
          trajectory.at((trajectory.duration * n) / 200, room, n < 200 ? "right" : "left");
          [room.speed, room.accel, room.jerk].forEach((table, k) => {
            const { low, high } = bounds[k];
            const slack = 1e-3 * Math.max(-low.value, high.value) + 1e-6;
            const value = table[axis];
            assert.ok(low.value - slack <= value && value <= high.value + slack, `seed ${seed} ${axis} order ${k + 1}`);
          });
        }
      }
    }
  });
});
