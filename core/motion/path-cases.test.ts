import assert from "node:assert/strict";
import { aimAt, moveOf, sliderRig, still, type KeyText } from "../../test/support/moves.ts";
import { about, at, LINE, onFloor, via } from "../../test/support/path-moves.ts";
import { joint, rigOf } from "../../test/support/rigs.ts";
import { runToEnd } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };
const plan = (move: ResolvedMove): Trajectory => runToEnd(planTrajectory(move));
const PUPIL = 0.052;

function look(trajectory: Trajectory, t: number, side: "left" | "right" = "right"): Instant {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant, side);
  return instant;
}

const near = (given: number, expected: number, reach: number, what = ""): void =>
  assert.ok(Math.abs(given - expected) <= reach, `${what} ${given} is not ${expected}`);
const speedAt = (trajectory: Trajectory, t: number): number => Math.hypot(...look(trajectory, t).velocity);

/** Two links in a plane, each 1 m, the pupil at the end of the second. */
function twoLinks(): ReturnType<typeof rigOf> {
  return rigOf([joint("shoulder", "rotary", [0, 0, 1], [0, 0, 1]), joint("elbow", "rotary", [0, 0, 1], [1, 0, 0])], {
    mount: { at: [1 - PUPIL, 0, 0], turn: [0, 0, 0, 1] },
  });
}

describe("closed forms of paths", () => {
  it("two links along a straight line bend as the law of cosines says", () => {
    const trajectory = plan(
      moveOf(twoLinks(), [
        { time: 0, axes: { shoulder: -0.4, elbow: 1.2 } },
        { time: 4, axes: { shoulder: -1.1, elbow: 0.9 }, path: LINE },
      ]),
    );
    assert.deepEqual(trajectory.paths, []);
    const end = (shoulder: number, elbow: number): number[] => [
      Math.cos(shoulder) + Math.cos(shoulder + elbow),
      Math.sin(shoulder) + Math.sin(shoulder + elbow),
    ];
    const [from, to] = [end(-0.4, 1.2), end(-1.1, 0.9)];
    for (let n = 0; n <= 40; n++) {
      const s = n / 40;
      const share = s ** 3 * (10 - 15 * s + 6 * s * s);
      const [x, y] = [0, 1].map((axis) => from[axis] + share * (to[axis] - from[axis]));
      // r² = 2 + 2 cos(elbow); the shoulder is half of the elbow off the direction of the end.
      const elbow = Math.acos((x * x + y * y - 2) / 2);
      const { value } = look(trajectory, 4 * s, n < 40 ? "right" : "left");
      near(value[1], elbow, 1e-9, `elbow at ${4 * s}`);
      near(value[0], Math.atan2(y, x) - elbow / 2, 1e-9, `shoulder at ${4 * s}`);
    }
  });

  it("from rest to rest a line has its highest speed at half the time, 15/8 of the mean (Flash & Hogan 1985)", () => {
    const trajectory = plan(
      onFloor([
        { time: 0, camera: at(1.5, -0.3, 1.1), aim: aimAt(0) },
        { time: 3, camera: at(1.6, 0.2, 1.15), path: LINE },
      ]),
    );
    near(speedAt(trajectory, 1.5), ((15 / 8) * Math.hypot(0.1, 0.5, 0.05)) / 3, 1e-9);
    for (const t of [1.4, 1.6]) assert.ok(speedAt(trajectory, t) < speedAt(trajectory, 1.5));
    near(speedAt(trajectory, 0), 0, 1e-12);
  });

  it("an ease shapes how far the camera has come: constant speed between ramps", () => {
    const trajectory = plan(
      onFloor([
        { time: 0, camera: at(1.5, -0.3, 1.1), aim: aimAt(0) },
        { time: 3, camera: at(1.5, 0.3, 1.1), path: LINE, ease: { kind: "linear", ramp: 0.5 } },
      ]),
    );
    for (const t of [0.6, 1, 1.5, 2, 2.4]) near(look(trajectory, t).velocity[1], 0.6 / 2.5, 1e-9, `at ${t}`);
  });

  it("an arc about the pivot of an arm turns it, out and up evenly with the angle", () => {
    const pivot = [
      joint("arm", "rotary", [0, 0, 1], [1, 0, 1]),
      joint("out", "linear", [1, 0, 0]),
      joint("up", "linear", [0, 0, 1]),
    ];
    const keys = [
      { time: 0, axes: { arm: 0.2, out: 0.7, up: 0 } },
      { time: 4, axes: { arm: 1.4, out: 0.9, up: 0.3 }, path: about(0) },
    ];
    const trajectory = plan(moveOf(rigOf(pivot), keys, { targets: [still("pivot", [1, 0, 1])] }));
    assert.deepEqual(trajectory.paths, []);
    for (let n = 1; n < 20; n++) {
      const { value } = look(trajectory, n / 5);
      const share = (value[0] - 0.2) / 1.2;
      near(value[1] + PUPIL, 0.7 + PUPIL + 0.2 * share, 1e-9, "out");
      near(value[2], 0.3 * share, 1e-9, "up");
    }
  });
});

describe("arcs about what moves", () => {
  const camera = (y: number) => ({ kind: "offset", from: 0, offset: [-0.7, y, 0.15] as Vec3, origin: 0 }) as const;
  const isCarried = (trajectory: Trajectory): void => {
    assert.deepEqual(trajectory.paths, []);
    for (let t = 0; t < 5; t += 0.05) {
      const { position, targets } = look(trajectory, t);
      near(Math.hypot(position[0] - targets[0], position[1] - targets[1]), Math.hypot(0.7, 0.2), 1e-9, "radius");
      near(position[2] - targets[2], 0.15, 1e-9, "height");
    }
  };

  it("keep their radius and height from a target on a turntable", () => {
    const turntables = [
      { name: "plate", at: [2.4, 0, 0.9] as Vec3, along: [0, 0, 1] as Vec3, limits: {}, origins: NOWHERE },
    ];
    const keys = [
      { time: 0, axes: { plate: 0 }, camera: camera(-0.2), aim: aimAt(0) },
      { time: 5, axes: { plate: 0.6 }, camera: camera(0.2), path: about(0) },
    ];
    isCarried(plan(onFloor(keys, { targets: [{ ...still("spout", [0.15, 0.05, 0.1]), on: 0 }], turntables })));
  });

  it("and from one that goes its own way", () => {
    const follow = [
      { time: 0, to: [2.4, -0.1, 1] as Vec3 },
      { time: 5, to: [2.3, 0.2, 1.05] as Vec3 },
    ];
    const keys = [
      { time: 0, camera: camera(-0.2), aim: aimAt(0) },
      { time: 5, camera: camera(0.2), path: about(0) },
    ];
    isCarried(plan(onFloor(keys, { targets: [{ ...still("cup", follow[0].to), follow }] })));
  });
});

describe("where ways meet", () => {
  const corner = (more: Partial<KeyText>): KeyText[] => [
    { time: 0, camera: at(1.4, -0.4, 1.1), aim: aimAt(0) },
    { time: 5, camera: at(1.4, 0.1, 1.1), path: LINE, ...more },
    { time: 10, camera: at(1.7, 0.1, 1.1), path: LINE },
  ];

  it("at a corner without a word the camera rests, and it is said", () => {
    const trajectory = plan(onFloor(corner({})));
    assert.equal(trajectory.paths.length, 1);
    const [note] = trajectory.paths;
    assert.ok(note.kind === "corner" && note.key === 1 && note.from === 5 && note.joint.kind === "corner");
    near(note.joint.angle, Math.PI / 2, 1e-12);
    near(speedAt(trajectory, 5), 0, 1e-12);
  });

  it("a rounding leaves and joins so far from the corner, inside it, and never rests", () => {
    const trajectory = plan(onFloor(corner({ blend: { length: 0.12, origin: 0 } })));
    assert.deepEqual(trajectory.paths, []);
    for (let t = 3; t < 7; t += 0.01) {
      const [x, y] = look(trajectory, t).position;
      const off = Math.hypot(x - 1.4, y - 0.1);
      if (0.12 < off) assert.ok(Math.min(Math.abs(x - 1.4), Math.abs(y - 0.1)) < 1e-9, `at ${t}`);
      else assert.ok(1.4 - 1e-12 <= x && y <= 0.1 + 1e-12, `at ${t}`);
      assert.ok(0.01 < speedAt(trajectory, t), `rests at ${t}`);
    }
    // By hand: the quintic with the ways' directions passes 3/16 of the reach from the corner along both, at the key's time.
    const { position } = look(trajectory, 5);
    near(Math.hypot(position[0] - 1.4, position[1] - 0.1), (3 / 16) * 0.12 * Math.SQRT2, 1e-9);
  });

  it("a rounding takes no more than half of the shorter way", () => {
    const { position } = look(plan(onFloor(corner({ blend: { length: 3, origin: 0 } }))), 5);
    near(Math.hypot(position[0] - 1.4, position[1] - 0.1), (3 / 16) * 0.15 * Math.SQRT2, 1e-9);
  });

  it("straight on the camera passes, and a circle goes on as a circle", () => {
    const through = (path: KeyText["path"], places: readonly Vec3[]): Trajectory =>
      plan(
        onFloor(
          places.map((one, i) => ({
            time: 4 * i,
            camera: at(...one),
            ...(i === 0 ? { aim: aimAt(0) } : { path }),
          })),
          { targets: [still("lid", [2.4, 0, 1.02]), still("pivot", [2.1, 0, 1.1])] },
        ),
      );
    const straight = through(LINE, [
      [1.5, -0.4, 1.1],
      [1.5, 0, 1.1],
      [1.5, 0.4, 1.1],
    ]);
    // 3-4-5 triangles: all points are 0.5 from the pivot.
    const round = through(about(1), [
      [1.7, -0.3, 1.1],
      [1.6, 0, 1.1],
      [1.7, 0.3, 1.1],
    ]);
    for (const trajectory of [straight, round]) {
      assert.deepEqual(trajectory.paths, []);
      assert.ok(0.05 < speedAt(trajectory, 4));
    }
  });

  it("between a path and a way of the axes the camera rests, and its axes go on without a step", () => {
    const trajectory = plan(
      onFloor([
        { time: 0, axes: { dolly: 0.2, swing: -0.2, lift: 0.1 }, aim: aimAt(0) },
        { time: 3, axes: { dolly: 0.4, swing: 0, lift: 0.15 } },
        { time: 6, camera: at(1.6, 0.2, 1.1), path: LINE, framing: [0.45, 0.5] },
        { time: 9, axes: { dolly: 0.5, swing: 0.3, lift: 0.1 }, framing: [0.55, 0.5] },
      ]),
    );
    assert.deepEqual(trajectory.paths, []);
    for (const t of [3, 6]) {
      near(speedAt(trajectory, t), 0, 1e-10, `speed at ${t}`);
      const [left, right] = [look(trajectory, t, "left"), look(trajectory, t)];
      for (const table of ["value", "speed", "accel"] as const) {
        left[table].forEach((value, axis) => near(value, right[table][axis], 1e-8, `${table} ${axis} at ${t}`));
      }
    }
    near(look(trajectory, 3).value[0], 0.4, 1e-9);
    near(look(trajectory, 9, "left").value[0], 0.5, 1e-9);
  });
});

describe("paths that cannot be followed", () => {
  const fixed = { pan: 0.1, tilt: -0.05 };
  const slide = (path: KeyText["path"]): Trajectory =>
    plan(
      moveOf(sliderRig(), [
        { time: 0, axes: { slide: -0.3, ...fixed } },
        { time: 4, axes: { slide: 0.3 }, path },
      ]),
    );

  it("a slider follows its own line and none across it", () => {
    const along = slide(LINE);
    assert.deepEqual(along.paths, []);
    near(look(along, 2).value[0], 0, 1e-12);
    const [note, ...more] = slide(via(0.4, 0, 1.2)).paths;
    assert.equal(more.length, 0);
    assert.ok(note.kind === "out-of-reach" && note.key === 1 && 0.2 < note.distance!);
    assert.ok(0 <= note.from && note.from < 0.1 && 3.9 < note.to && note.to <= 4);
  });

  it("an arm that the line leads to with its elbow one way, the key the other way", () => {
    const keys = [
      { time: 0, axes: { shoulder: -0.4, elbow: 1.2 } },
      { time: 4, axes: { shoulder: 0.9, elbow: -0.9 }, path: LINE },
    ];
    const [note, ...more] = plan(moveOf(twoLinks(), keys)).paths;
    assert.equal(more.length, 0);
    // Both ways stand at one place: the elbow's mirror, 2 · 0.9 apart.
    assert.ok(note.kind === "branch-change" && note.where === "at-end");
    near(Math.abs(note.left - note.right), 1.8, 1e-6);
  });

  it("an arc that leaves the arm's reach is lost there, once, and followed before", () => {
    const keys = [
      { time: 0, axes: { shoulder: -0.9, elbow: 0.3 } },
      { time: 4, axes: { shoulder: 1.2, elbow: 0.3 }, path: via(2.4, 0.3, 1) },
    ];
    const trajectory = plan(moveOf(twoLinks(), keys));
    const lost = trajectory.paths.filter(({ kind }) => kind === "out-of-reach");
    assert.equal(lost.length, 1);
    const [note] = lost;
    // The arm is 2 m long and the arc goes out to about 2.42 m; it was brought near, not to the nearest.
    assert.ok(note.kind === "out-of-reach" && note.key === 1 && 0.3 < note.distance! && note.distance! < 0.7);
    assert.ok(0 < note.from && note.to < 4);
    assert.equal(look(trajectory, 0.5 * note.from).status, "converged");
    assert.equal(look(trajectory, (note.from + note.to) / 2).status, "stalled");
  });

  it("nothing throws, and nothing is NaN, whatever the places", () => {
    const pairs = [
      [at(0, 0, 0), at(0, 0, 0)],
      [at(1e9, 0, 0), at(-1e9, 1, 1)],
      [at(2.4, 0, 1.02), at(2.4, 0, 1.02)],
      [at(1.5, 0, 1.1), at(1.5, 0, 1.1 + 1e-12)],
    ];
    for (const [first, second] of pairs) {
      for (const path of [LINE, via(1.5, 0.1, 1.1), about(0), about(0, [1, 0, 0])]) {
        const trajectory = plan(
          onFloor([
            { time: 0, camera: first, aim: aimAt(0) },
            { time: 2, camera: second, path },
            { time: 4, camera: at(1.6, 0.1, 1.1), path, blend: { length: 0.1, origin: 0 } },
            { time: 6, camera: at(1.5, 0.2, 1.2), path },
          ]),
        );
        for (let n = 0; n <= 12; n++) {
          const { value, speed, accel, jerk, position } = look(trajectory, n / 2, n < 12 ? "right" : "left");
          for (const table of [value, speed, accel, jerk, position]) assert.ok(table.every(Number.isFinite));
        }
      }
    }
  });
});
