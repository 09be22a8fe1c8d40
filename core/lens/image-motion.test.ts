import assert from "node:assert/strict";
import fc from "fast-check";
import { anyOptics, optics, part } from "../../test/support/lenses.ts";
import { quatAbout, rotateByQuat, invertQuat } from "../base/quat.ts";
import { RATES } from "../base/rate.ts";
import { add, length, scale, type Vec3 } from "../base/vec3.ts";
import { exposureTime } from "./exposure.ts";
import { createImageRoom, farMotion, pointMotion } from "./image-motion.ts";
import { project } from "./project.ts";
import type { ResolvedOptics } from "./resolved-optics.ts";

const DEG = Math.PI / 180;
/** 35 mm on 25.34 mm and 3840 px: 5303.8674 px, horizontal field of view 39.8005 deg. */
const lens = optics({ sensor: [0.02534, 0.02534 * (9 / 16)], resolution: [3840, 2160] });
const focal = { focal: 0.035, rate: 0 };
const still = [0, 0, 0];

describe("exposureTime", () => {
  it("is the shutter's share of a frame, at exact rates", () => {
    assert.equal(exposureTime(Math.PI, RATES["24"]), 1 / 48);
    assert.equal(exposureTime(Math.PI, RATES["23.976"]), 1001 / 48000);
    assert.equal(exposureTime(2 * Math.PI, RATES["29.97df"]), 1001 / 30000);
    assert.equal(exposureTime(Math.PI / 2, RATES["25"]), 1 / 100);
  });
});

describe("image motion in closed form", () => {
  const room = createImageRoom();
  const exposure = exposureTime(Math.PI, RATES["24"]);
  const blur = (): number => Math.hypot(room.motion[0], room.motion[1]) * exposure;

  it("of a pan: f_px ω t in the middle, 1/cos² times that at the edge", () => {
    // f_px = 35 mm · 3840 px / 25.34 mm = 5303.8674 px; 10 deg/s over 1/48 s.
    const pan = [0, 0, 10 * DEG];
    assert.ok(farMotion(lens, focal, 0.5, 0.5, pan, room));
    assert.ok(Math.abs(blur() - 19.2854) < 5e-5, `${blur()}`);
    assert.ok(0 < room.motion[0], "a pan to the left moves the picture to the right");
    const middle = blur();
    assert.ok(farMotion(lens, focal, 1, 0.5, pan, room));
    assert.ok(Math.abs(blur() / middle - 1.131) < 5e-5, `${blur() / middle}`);
  });

  it("of a sideways dolly: f_px v t / Z", () => {
    // 0.5 m/s at 3 m.
    assert.ok(pointMotion(lens, focal, [3, 0, 0], [0, -0.5, 0], still, room));
    assert.ok(Math.abs(blur() - 18.4162) < 5e-5, `${blur()}`);
    assert.ok(0 < room.motion[0] && room.motion[1] === 0, "what goes to the right goes right in the picture");
  });

  it("of the published pan of one frame width in 7 s at 24 frames a second: 5.6858 deg/s is 22.857 px a frame", () => {
    // One width of 3840 px over 168 frames is 22.857 px; the field of view of 39.8005 deg over 7 s is 5.6858 deg/s. By that
    // constant turn the middle passes a little slower than the mean over the whole width.
    assert.ok(farMotion(lens, focal, 0.5, 0.5, [0, 0, 5.6858 * DEG], room));
    const step = room.motion[0] / 24;
    const mean = 3840 / 168;
    assert.ok(Math.abs(mean - 22.857) < 1e-3);
    // Mean of 1 + x² over the width, x up to tan(39.8005°/2): equal to the width over the angle by definition.
    const half = (39.8005 / 2) * DEG;
    assert.ok(Math.abs(step / mean - half / Math.tan(half)) < 1e-5, `${step}`);
  });

  it("of a zoom: away from the middle by the share that the focal length grows", () => {
    assert.ok(farMotion(lens, { focal: 0.035, rate: 0.007 }, 0.75, 0.5, still, room));
    assert.ok(Math.abs(room.motion[0] - 0.25 * 3840 * 0.2) < 1e-9 && Math.abs(room.motion[1]) < 1e-12);
  });

  it("of a roll: about the middle", () => {
    // Clockwise seen from behind: what is above the middle goes left.
    assert.ok(farMotion(lens, focal, 0.5, 0.25, [1, 0, 0], room));
    assert.ok(Math.abs(room.motion[0] + 0.25 * 2160) < 1e-9 && Math.abs(room.motion[1]) < 1e-12);
  });

  it("has no value behind the camera, nor where the lens forms no picture", () => {
    assert.equal(pointMotion(lens, focal, [-1, 0, 0], still, still, room), false);
    assert.ok(room.motion.every(Number.isNaN));
    const fold = optics({ distortion: { k1: -0.2, k2: 0, p1: 0, p2: 0, k3: 0 } });
    assert.equal(farMotion(fold, { focal: 0.01, rate: 0 }, 1, 0.5, [0, 0, 1], room), false);
    assert.ok(room.motion.every(Number.isNaN));
  });
});

describe("image motion against difference quotients of the projection", () => {
  const vector = (size: number): fc.Arbitrary<Vec3> => fc.tuple(part(size), part(size), part(size));
  const STEP = 1e-5;

  /** Where a point of the set is seen at `t` by a camera that starts at the set's frame, moves by `velocity` and turns by `spin`. */
  function seenAt(
    t: number,
    one: ResolvedOptics,
    zoom: { focal: number; rate: number },
    point: Vec3,
    own: Vec3,
    velocity: Vec3,
    spin: Vec3,
  ): number[] {
    const turn = length(spin) === 0 ? still : scale(spin, 1 / length(spin));
    const q = quatAbout(turn as Vec3, length(spin) * t);
    const moved = add(add(point, scale(own, t)), scale(velocity, -t));
    const inner = rotateByQuat(invertQuat(q), moved);
    const out = [0, 0];
    project(one, zoom.focal + zoom.rate * t, inner[0], inner[1], inner[2], out);
    return [out[0] * one.resolution[0], out[1] * one.resolution[1]];
  }

  it("agrees for points and for what is far, on 2,000 lenses and motions", () => {
    const room = createImageRoom();
    let compared = 0;
    fc.assert(
      fc.property(
        anyOptics,
        fc.double({ min: 0.4, max: 5, noNaN: true }),
        fc.tuple(part(0.4), part(0.25)),
        vector(1),
        vector(1),
        vector(1.5),
        part(0.02),
        (one, x, [left, up], own, velocity, spin, rate) => {
          const zoom = { focal: one.focal.low, rate };
          for (const far of [false, true]) {
            const point: Vec3 = [x, left * x, up * x];
            const [mine, camera]: [Vec3, Vec3] = far
              ? [
                  [0, 0, 0],
                  [0, 0, 0],
                ]
              : [own, velocity];
            const relative = add(mine, scale(camera, -1));
            const seen = [0, 0];
            if (!project(one, zoom.focal, ...point, seen)) return;
            const isSeen = far
              ? farMotion(one, zoom, seen[0], seen[1], spin, room)
              : pointMotion(one, zoom, point, relative, spin, room);
            assert.ok(isSeen);
            const [a, b] = [-STEP, STEP].map((t) => seenAt(t, one, zoom, point, mine, camera, spin));
            if ([...a, ...b].some(Number.isNaN)) return;
            compared += 1;
            for (const i of [0, 1]) {
              const slope = (b[i] - a[i]) / (2 * STEP);
              const size = Math.max(100, Math.abs(slope));
              assert.ok(Math.abs(room.motion[i] - slope) < 2e-5 * size, `${room.motion[i]} is not ${slope}`);
            }
          }
        },
      ),
      { numRuns: 2000, seed: 21 },
    );
    assert.ok(3500 < compared, `${compared} were compared`);
  });
});
