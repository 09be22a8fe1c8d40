import assert from "node:assert/strict";
import fc from "fast-check";
import { runToEnd } from "../base/task.ts";
import type { Take } from "../motion/take.ts";
import { compareTakes } from "./compare-takes.ts";
import { otherTime, type ComparedMove } from "./compared-move.ts";

/** A camera that looks along x from a place on y, at targets on the plane x = DEPTH; no rotation. */
const DEPTH = 2;
/** A 35 mm lens over 36 mm by 20.25 mm of 6144 by 3456 px. */
const FOCAL = 0.035;
const SENSOR = [0.036, 0.02025] as const;
const RESOLUTION = [6144, 3456] as const;
const DELIVER = [3840, 2160] as const;

interface Motion {
  readonly duration: number;
  /** Place of the pupil along y [m], and its speed [m/s]. */
  readonly y: (t: number) => number;
  readonly speed: (t: number) => number;
  readonly samples?: number;
  readonly targets?: Readonly<Record<string, number>>;
  readonly axes?: ComparedMove["axes"];
  readonly picture?: ComparedMove["picture"];
}

/** The pinhole formula of any book on optics: across = 1/2 - focal · y / (depth · width). */
const across = (y: number): number => 0.5 - (FOCAL * y) / (DEPTH * SENSOR[0]);

function moved(motion: Motion): ComparedMove {
  const { duration, y, speed, samples = 61, targets = { lid: 0 }, picture } = motion;
  const axes = motion.axes ?? [{ name: "slide", type: "linear" }];
  const places = Object.values(targets);
  const t = Float64Array.from({ length: samples }, (_, i) => (duration * i) / (samples - 1));
  const rows = <T>(row: (t: number) => readonly T[]): T[] => [...t].flatMap(row);
  const table = (row: (t: number) => readonly number[]): Float64Array => Float64Array.from(rows(row));
  const take: Take = {
    count: samples,
    t,
    value: table((at) => axes.map(() => y(at))),
    speed: table((at) => axes.map(() => speed(at))),
    accel: new Float64Array(samples * axes.length),
    jerk: new Float64Array(samples * axes.length),
    position: table((at) => [0, y(at), 1]),
    rotation: table(() => [0, 0, 0, 1]),
    focal: table(() => [FOCAL]),
    focus: table(() => [DEPTH]),
    share: table(() => [0]),
    targets: table(() => places.flatMap((place) => [DEPTH, place, 1])),
    framing: table((at) => places.flatMap((place) => [across(place - y(at)), 0.5])),
    distance: table((at) => places.map((place) => Math.hypot(DEPTH, place - y(at)))),
  };
  return {
    take,
    duration,
    axes,
    targets: Object.keys(targets).map((name) => ({ name })),
    picture: picture ?? { resolution: RESOLUTION, deliver: DELIVER },
  };
}

const still: Motion = { duration: 2, y: () => 0, speed: () => 0 };
const compare = (one: Motion, other: Motion, alignment: "time" | "share" = "time") =>
  runToEnd(compareTakes(moved(one), moved(other), alignment));
const close = (found: number | undefined, expected: number, within: number, what: string): void =>
  assert.ok(found !== undefined && Math.abs(found - expected) <= within, `${what}: ${found}, expected ${expected}`);

describe("comparing two takes", () => {
  it("finds a known shift of the camera, and its px by the pinhole formula", () => {
    const shift = 0.05;
    const found = compare({ ...still, y: () => shift }, still);
    close(found.pupil.value, shift, 1e-12, "pupil");
    // focal · shift / depth on the sensor, over the width of one px: 35 mm · 50 mm / 2 m / (36 mm / 6144).
    const px = (FOCAL * shift) / DEPTH / (SENSOR[0] / RESOLUTION[0]);
    close(found.targets[0].shift?.value, px, 1e-9, "px");
    assert.equal(found.targets[0].name, "lid");
    assert.deepEqual(found.axes.map(({ name }) => name), ["slide"]);
    close(found.axes[0].difference.value, shift, 1e-12, "slide");
    assert.deepEqual([found.onlyOne, found.onlyOther], [{ axes: [], targets: [] }, { axes: [], targets: [] }]);
  }); // prettier-ignore

  it("finds when a difference is largest, between the samples of one of the two as well", () => {
    // Both swing; the difference 0.1 sin(pi t / 2) is largest at 1 s, which only the second has a sample at.
    const swing: Motion = {
      duration: 2,
      samples: 4,
      y: (t) => 0.1 * Math.sin((Math.PI * t) / 2),
      speed: (t) => 0.05 * Math.PI * Math.cos((Math.PI * t) / 2),
    };
    const found = compare(swing, { ...still, samples: 201 });
    const { difference } = found.axes[0];
    close(difference.at, 1, 1e-9, "when");
    // The cubic between samples 2/3 s apart: its error is at most span^4 / 384 · 0.1 · (pi / 2)^4 = 0.3 mm.
    close(difference.value, 0.1, 0.0004, "slide");
    assert.equal(difference.otherAt, difference.at);
  });

  it("sets played times against each other up to the end of the shorter, or shares of each move", () => {
    // The same way, in 2 s and in 4 s.
    const way = (duration: number): Motion => ({ duration, y: (t) => t / duration, speed: () => 1 / duration });
    const byTime = compare(way(4), way(2));
    assert.deepEqual([byTime.duration, byTime.otherDuration, byTime.until], [4, 2, 2]);
    // At 2 s the slow one is half way, the quick one at its end.
    close(byTime.pupil.value, 0.5, 1e-12, "pupil");
    close(byTime.pupil.at, 2, 1e-12, "when");
    const byShare = compare(way(4), way(2), "share");
    close(byShare.pupil.value, 0, 1e-12, "pupil");
    assert.equal(byShare.until, 4);
    const far = compare({ ...way(4), y: (t) => (t / 4) ** 2, speed: (t) => t / 8 }, way(2), "share");
    // s² - s is largest at the half: 2 s of the first, 1 s of the second.
    close(far.pupil.value, 0.25, 1e-9, "pupil");
    close(far.pupil.at, 2, 1e-9, "when");
    close(far.pupil.otherAt, 1, 1e-9, "when, of the other");
  });

  it("compares what both have, and names the rest", () => {
    const found = compare(
      { ...still, targets: { lid: 0, spout: 0.1 }, axes: [{ name: "slide", type: "linear" }, { name: "lift", type: "rotary" }] },
      { ...still, targets: { handle: 0, lid: 0.02 }, axes: [{ name: "lift", type: "linear" }, { name: "slide", type: "linear" }] },
    ); // prettier-ignore
    assert.deepEqual(found.onlyOne, { axes: ["lift"], targets: ["spout"] });
    assert.deepEqual(found.onlyOther, { axes: ["lift"], targets: ["handle"] });
    assert.deepEqual(found.targets.map(({ name }) => name), ["lid"]); // prettier-ignore
    close(found.targets[0].shift?.value, (FOCAL * 0.02 * RESOLUTION[0]) / DEPTH / SENSOR[0], 1e-9, "px of the lid");
  });

  it("leaves out what neither picture shows and what one of the two cannot picture", () => {
    // 3 m to the side at 2 m: far outside of a picture that reaches 1.03 m there.
    assert.equal(compare({ ...still, targets: { lid: 3 } }, { ...still, targets: { lid: 3.1 } }).targets[0].shift, undefined);
    const behind = moved(still);
    behind.take.framing.fill(NaN);
    const found = runToEnd(compareTakes(moved(still), behind, "time"));
    assert.equal(found.targets[0].shift, undefined);
    assert.equal(found.pupil.value, 0);
  }); // prettier-ignore

  it("lays pictures of other sizes over each other edge to edge", () => {
    const small: Motion = { ...still, picture: { resolution: [1920, 1080], deliver: [1920, 1080] } };
    // 0.1 of the captured 6144 px is 614.4 px from the middle; of the delivered 1920 px it is a tenth.
    const one = moved({ ...still, targets: { lid: 0 } });
    one.take.framing.forEach((_, i) => (one.take.framing[i] = i % 2 === 0 ? 0.6 : 0.5));
    const other = moved(small);
    other.take.framing.forEach((_, i) => (other.take.framing[i] = i % 2 === 0 ? 0.6 : 0.5));
    const found = runToEnd(compareTakes(one, other, "time"));
    close(found.targets[0].shift?.value, 614.4 - 0.1 * 3840, 1e-9, "px");
  });

  it("gives the same way round but for the sign, whatever the motions", () => {
    const any = fc.record({
      duration: fc.double({ min: 0.1, max: 10, noNaN: true }),
      rate: fc.double({ min: -0.3, max: 0.3, noNaN: true }),
      samples: fc.integer({ min: 2, max: 40 }),
    });
    const motion = ({ duration, rate, samples }: { duration: number; rate: number; samples: number }): Motion => ({
      duration,
      samples,
      y: (t) => (rate * t) / duration,
      speed: () => rate / duration,
    });
    fc.assert(
      fc.property(any, any, fc.constantFrom("time" as const, "share" as const), (a, b, alignment) => {
        const [there, back] = [compare(motion(a), motion(b), alignment), compare(motion(b), motion(a), alignment)];
        assert.ok(Math.abs(there.pupil.value - back.pupil.value) < 1e-9);
        assert.ok(Math.abs(there.axes[0].difference.value - back.axes[0].difference.value) < 1e-9);
        // Straight ways differ most at one of the ends of what is compared.
        const ends = [0, there.until].map((t) => {
          const s = otherTime(a, b, t, alignment) ?? b.duration;
          return Math.abs((a.rate * t) / a.duration - (b.rate * s) / b.duration);
        });
        assert.ok(Math.abs(there.pupil.value - Math.max(...ends)) < 1e-9);
      }),
      { seed: 17, numRuns: 200 },
    );
  });

  it("takes moves of one instant", () => {
    const found = compare({ ...still, duration: 0, samples: 1 }, still);
    assert.equal(found.until, 0);
    assert.equal(found.pupil.value, 0);
  });
});
