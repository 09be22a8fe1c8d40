import assert from "node:assert/strict";
import { aimAt, moveOf, NO_AIM, sliderRig, still, type KeyText } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedEase, ResolvedKey, ResolvedMove } from "./resolved-move.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

const plan = (move: ResolvedMove): Trajectory => runToEnd(planTrajectory(move));
const TARGETS = [still("lid", [2.1, 0, 1.02]), still("spout", [2.2, 0.4, 1.0])];
const slide = (keys: readonly KeyText[], more: Partial<ResolvedMove> = {}): Trajectory =>
  plan(moveOf(sliderRig(), keys, { targets: TARGETS, ...more }));

function at(trajectory: Trajectory, t: number, side: "left" | "right" = "right"): Instant {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant, side);
  return instant;
}

const axis = (trajectory: Trajectory, name: string): number => trajectory.axes.findIndex((one) => one.name === name);

const near = (a: number, b: number, slack = 1e-12): void =>
  assert.ok(Math.abs(a - b) <= slack * Math.max(1, Math.abs(b)), `${a} is not ${b}`);

/** Value, speed and acceleration of every axis go on over every knot. */
function assertSmooth(trajectory: Trajectory, slack = 1e-9): void {
  for (const knot of trajectory.knots.slice(1, -1)) {
    const [left, right] = [at(trajectory, knot, "left"), at(trajectory, knot)];
    for (const table of ["value", "speed", "accel"] as const) {
      left[table].forEach((value, i) => near(value, right[table][i], slack));
    }
  }
}

function assertStill(trajectory: Trajectory, from: number, to: number): void {
  const first = at(trajectory, from);
  for (let i = 0; i <= 10; i++) {
    const now = at(trajectory, from + ((to - from) * i) / 10, i === 10 ? "left" : "right");
    for (const table of [now.speed, now.accel, now.jerk, now.velocity]) {
      for (const value of table) assert.ok(Math.abs(value) < 1e-9, `moves at ${now.t}`);
    }
    now.value.forEach((value, k) => near(value, first.value[k]));
    for (const k of [0, 1]) if (!Number.isNaN(now.wanted[k])) near(now.wanted[k], first.wanted[k]);
    near(now.focal, first.focal);
    near(now.iris, first.iris);
    near(now.aimBlend, first.aimBlend);
    if (!Number.isNaN(first.focus)) near(now.focus, first.focus);
  }
}

describe("a held key", () => {
  const keys: KeyText[] = [
    { time: 0, axes: { slide: -0.5 }, aim: aimAt(0), framing: [0.3, 0.5], iris: { value: 4, origin: 0 } },
    { time: 3, axes: { slide: 0.1 }, hold: 2 },
    { time: 9, axes: { slide: 0.5 }, aim: aimAt(1), framing: [0.6, 0.4], iris: { value: 8, origin: 0 }, hold: 1.5 },
  ];

  it("keeps everything in place, what it keys and what passes through", () => {
    const trajectory = slide(keys);
    assert.equal(trajectory.duration, 10.5);
    assertSmooth(trajectory);
    assertStill(trajectory, 3, 5);
    assertStill(trajectory, 9, 10.5);
    const held = at(trajectory, 4);
    near(held.value[axis(trajectory, "slide")], 0.1);
    // The framing has no knot there: it rests at the value that it would pass at 3 of 7 s if nothing were held.
    const unheld = slide([keys[0], { ...keys[1], hold: undefined }, { ...keys[2], time: 7, hold: undefined }]);
    near(held.wanted[0], at(unheld, 3).wanted[0]);
    assert.ok(0.3 < held.wanted[0] && held.wanted[0] < 0.6);
  });

  it("lets the sight leave at its end", () => {
    const trajectory = slide([keys[0], { ...keys[1], aim: aimAt(0) }, keys[2]]);
    assert.equal(at(trajectory, 4.9).aimTo, 0);
    assert.equal(at(trajectory, 5.1).aimTo, 1);
    assert.ok(0 < at(trajectory, 5.1).aimBlend);
    assertStill(trajectory, 3, 5);
  });

  it("keeps an aim that ends there until it ends, and one that begins there from its beginning", () => {
    const ends = slide([keys[0], { ...keys[1], aim: NO_AIM }, { time: 9, axes: { slide: 0.5, pan: 0.1, tilt: 0 } }]);
    assert.equal(at(ends, 4.9).aimFrom, 0);
    assert.equal(at(ends, 5.1).aimFrom, -1);
    assertSmooth(ends);
    assertStill(ends, 3, 5);
    const begins = slide([
      { time: 0, axes: { slide: -0.5, pan: 0.4, tilt: 0 } },
      { ...keys[1], aim: aimAt(0) },
      keys[2],
    ]);
    assert.equal(at(begins, 2.9).aimFrom, -1);
    assert.equal(at(begins, 3.1).aimFrom, 0);
    assertSmooth(begins);
    assertStill(begins, 3, 5);
  });

  it("goes on aiming at a target that moves by itself", () => {
    const moving = {
      ...still("stream", [2, 0, 1]),
      follow: [0, 4, 8].map((time) => ({ time, to: [2, 0.1 * time, 1] as const })),
    };
    const trajectory = slide([{ ...keys[0], aim: aimAt(2) }, keys[1], { ...keys[2], aim: aimAt(2) }], {
      targets: [...TARGETS, moving],
    });
    const now = at(trajectory, 4);
    assert.equal(now.speed[axis(trajectory, "slide")], 0);
    assert.ok(0.01 < Math.abs(now.speed[axis(trajectory, "pan")]));
    near(now.reached[0], now.wanted[0], 1e-10);
    assertSmooth(trajectory);
  });
});

describe("an eased key", () => {
  it("is come to in its shape by the channels that it gives, and by no other", () => {
    const ease: ResolvedEase = { kind: "linear", ramp: 1 };
    const trajectory = slide([
      { time: 0, axes: { slide: -0.4, pan: 0, tilt: 0 } },
      { time: 5, axes: { slide: 0.6 }, ease },
      { time: 8, axes: { slide: 0.2, pan: 0.5 } },
    ]);
    // By hand: 1 m over 5 s with ramps of 1 s is 0.25 m/s between them; a ramp covers 0.125 m.
    const slider = axis(trajectory, "slide");
    for (const t of [1, 2.5, 4]) near(at(trajectory, t).speed[slider], 0.25);
    near(at(trajectory, 1).value[slider], -0.275);
    near(at(trajectory, 5).speed[slider], 0);
    // The pan goes from 0 to 8 s with least jerk: at its middle 1.875 d/T (Flash and Hogan 1985).
    near(at(trajectory, 4).speed[axis(trajectory, "pan")], (1.875 * 0.5) / 8);
    assertSmooth(trajectory);
  });

  it("begins at the last rest of its channel", () => {
    const ease: ResolvedEase = { kind: "linear", ramp: 0.5 };
    const trajectory = slide([
      { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
      { time: 2, axes: { pan: 0.1 }, hold: 1 },
      { time: 5, axes: { slide: 0.6 }, ease },
    ]);
    const slider = axis(trajectory, "slide");
    const rise = 0.6 - at(trajectory, 2.5).value[slider];
    near(at(trajectory, 4).speed[slider], rise / 1.5);
    assertStill(trajectory, 2, 3);
    assertSmooth(trajectory);
  });

  it("shapes the way out of an aim that ends at rest", () => {
    const trajectory = slide([
      { time: 0, axes: { slide: -0.2 }, aim: aimAt(0) },
      { time: 3, axes: { slide: 0.2 }, aim: NO_AIM, hold: 1 },
      { time: 8, axes: { pan: 0.3, tilt: 0 }, ease: { kind: "linear", ramp: 1 } },
    ]);
    const pan = axis(trajectory, "pan");
    // 4 s with ramps of 1 s: a third of the way each second between them.
    near(at(trajectory, 6).speed[pan], (0.3 - at(trajectory, 4).value[pan]) / 3);
    assertStill(trajectory, 3, 4);
    assertSmooth(trajectory);
  });

  it("shapes what is solved at a camera key", () => {
    const ease: ResolvedEase = { kind: "linear", ramp: 0.5 };
    const camera = { kind: "at" as const, at: [0.09, 0.3, 1.2] as const, origin: 0 };
    const trajectory = slide([
      { time: 0, axes: { slide: 0 }, aim: aimAt(0) },
      { time: 4, camera, ease },
    ]);
    const slider = axis(trajectory, "slide");
    const rise = at(trajectory, 4, "left").value[slider];
    assert.ok(0.1 < rise);
    near(at(trajectory, 2).speed[slider], rise / 3.5);
  });
});

describe("a switch", () => {
  const shaped = (change: Omit<NonNullable<ResolvedKey["switch"]>, "origin">, hold?: number): Trajectory =>
    slide([
      { time: 0, axes: { slide: -0.3 }, aim: aimAt(0), focus: { kind: "target", target: 0, origin: 0 } },
      {
        time: 2,
        axes: { slide: 0 },
        aim: aimAt(0),
        focus: { kind: "target", target: 0, origin: 0 },
        ...(hold && { hold }),
      },
      {
        time: 8,
        axes: { slide: 0.3 },
        aim: aimAt(1),
        focus: { kind: "target", target: 1, origin: 0 },
        switch: { ...change, origin: 0 },
      },
    ]);

  it("holds the old target before it begins and the new one after it ends", () => {
    // From 2 to 8 s: 25 % is 3.5 s, 75 % is 6.5 s.
    const trajectory = shaped({ begin: 0.25, end: 0.75 });
    const blends = [3.4, 5, 6.6].map((t) => at(trajectory, t));
    assert.deepEqual([blends[0].aimFrom, blends[0].aimTo], [0, 0]);
    assert.deepEqual([blends[1].aimFrom, blends[1].aimTo], [0, 1]);
    near(blends[1].aimBlend, 0.5);
    assert.deepEqual([blends[2].aimFrom, blends[2].aimTo], [1, 1]);
    assertSmooth(trajectory);
    near(blends[2].framing[2], 0.5, 1e-10);
    // Focus racks in the same time: on the lid before, on the spout after.
    const depth = (instant: Instant, target: number): number => {
      const [x, y, z, w] = instant.rotation;
      const view = [1 - 2 * (y * y + z * z), 2 * (x * y + z * w), 2 * (x * z - y * w)];
      return view.reduce((sum, part, k) => sum + part * (instant.targets[3 * target + k] - instant.position[k]), 0);
    };
    near(blends[0].focus - depth(blends[0], 0), blends[2].focus - depth(blends[2], 1), 1e-9);
  });

  it("leaves from the end of a hold", () => {
    // From 4 to 8 s: 25 % is 5 s.
    const trajectory = shaped({ begin: 0.25, end: 1 }, 2);
    assert.equal(at(trajectory, 4.9).aimTo, 0);
    assert.equal(at(trajectory, 5.1).aimTo, 1);
    assertStill(trajectory, 2, 4);
    assertSmooth(trajectory);
  });

  it("goes in its shape", () => {
    const trajectory = shaped({ begin: 0, end: 1, ease: { kind: "linear", ramp: 1 } });
    // By hand: 6 s with ramps of 1 s: 1/5 of the way each second between them.
    near(at(trajectory, 5).aimBlend - at(trajectory, 4).aimBlend, 0.2);
    assertSmooth(trajectory);
  });

  it("rests in a hold on its way, whose time is no part of it", () => {
    const trajectory = slide([
      { time: 0, axes: { slide: 0 }, aim: aimAt(0) },
      { time: 2, axes: { slide: 0.1 }, hold: 4 },
      { time: 8, axes: { slide: 0.3 }, aim: aimAt(1), switch: { begin: 0.5, end: 0.75, origin: 0 } },
    ]);
    assertStill(trajectory, 2, 6);
    assert.equal(at(trajectory, 6.5).aimTo, 1);
    assert.equal(at(trajectory, 7.1).aimFrom, 1);
    assertSmooth(trajectory);
  });
});

describe("keyed speed", () => {
  const keys = (scale: number, share?: number): KeyText[] => [
    { time: 0, axes: { slide: -0.5 }, aim: aimAt(0), ...(share && { speed: { share, origin: 0 } }) },
    { time: 2 * scale, axes: { slide: 0.1 }, framing: [0.4, 0.5], ease: { kind: "linear", ramp: 0.5 } },
    { time: 5 * scale, axes: { slide: 0.4 }, aim: aimAt(1), framing: [0.6, 0.5] },
  ];

  it("of 50 % is the same move in twice the time", () => {
    const [plain, slow] = [slide(keys(1)), slide(keys(2, 0.5))];
    assert.equal(slow.duration, 2 * plain.duration);
    for (let t = 0; t <= 5; t += 0.25) {
      const [a, b] = [at(plain, t), at(slow, 2 * t)];
      a.value.forEach((value, i) => near(b.value[i], value, 1e-10));
      a.speed.forEach((speed, i) => near(b.speed[i], speed / 2, 1e-10));
      a.accel.forEach((accel, i) => near(b.accel[i], accel / 4, 1e-9));
    }
  });

  it("changes without a step in speed or acceleration of any axis, solved ones too", () => {
    const trajectory = slide([
      { time: 0, axes: { slide: -0.5 }, aim: aimAt(0), speed: { share: 1, origin: 0 } },
      { time: 2, axes: { slide: -0.2 }, speed: { share: 0.4, origin: 0 } },
      { time: 4, axes: { slide: 0 }, aim: NO_AIM, speed: { share: 0.4, origin: 0 } },
      { time: 6, axes: { slide: 0.3, pan: 0.2, tilt: 0 } },
      { time: 9, axes: { slide: 0.6 }, aim: aimAt(1), speed: { share: 1.5, origin: 0 } },
      { time: 11, axes: { slide: 0.4 } },
    ]);
    assertSmooth(trajectory, 1e-8);
  });

  it("does not warp a target's own path", () => {
    const moving = {
      ...still("stream", [2, 0, 1]),
      follow: [0, 4].map((time) => ({ time, to: [2, 0.1 * time, 1] as const })),
    };
    const fast = slide(keys(0.5, 2), { targets: [...TARGETS, moving] });
    near(at(fast, 2).targets[7], 0.2);
  });
});
