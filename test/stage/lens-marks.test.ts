import assert from "node:assert/strict";
import { Vector3 } from "three";
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Instant, Trajectory } from "../../core/motion/trajectory.ts";
import { packTake, unpackTake } from "../../protocol/codec.ts";
import type { StageTake } from "../../protocol/stage.ts";
import type { StageLensShown } from "../../protocol/stage-lens.ts";
import { inCamera } from "./independent.ts";
import { slideBy, topToFront } from "./moves.ts";
import { openCvLens, type OpenCvLens } from "./opencv-lens.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

/** What a place may differ from an independent computation [CSS px]: OpenCV's build here tells 1/32 px of 1536. */
const ALLOWED = 0.1;

interface Seen {
  readonly shown: Partial<StageLensShown>;
  readonly width: number;
  readonly height: number;
}

describe("marks over the view through the lens", function () {
  this.timeout(120_000);
  const host = useStageHost();
  let tab: StageTab;

  const open = async (take: StageTake): Promise<void> => {
    tab = await host.open({ width: 900, height: 800, answer: { take }, kept: { panes: ["lens"] } });
  };
  const at = async (t: number): Promise<Seen> => {
    await tab.send({ type: "playhead", time: t, key: -1 });
    const { picture } = await tab.until((state) => Math.abs((state.picture?.time ?? NaN) - t) < 1e-9);
    assert.ok(picture?.lens?.shown);
    return { shown: picture.lens.shown, width: picture.lens.rectangle[2], height: picture.lens.rectangle[3] };
  };
  const instantsOf = (move: ResolvedMove): { trajectory: Trajectory; look: (t: number) => Instant } => {
    const trajectory = runToEnd(planTrajectory(move));
    const look = (t: number): Instant => {
      const instant = trajectory.createInstant();
      trajectory.at(t, instant);
      return instant;
    };
    return { trajectory, look };
  };
  /** Where OpenCV sees a point of the set, shares of the picture. */
  const seenBy = (lens: OpenCvLens, instant: Instant, place: Vector3): readonly [number, number] | null => {
    const from = inCamera(instant, place);
    return from.x > 0 ? lens.see(-from.y / from.x, -from.z / from.x, instant.focal) : null;
  };
  const targetAt = ({ targets }: Instant, k: number): Vector3 => new Vector3(...targets.subarray(3 * k, 3 * k + 3));
  const near = (is: number, wanted: number, what: string): void =>
    assert.ok(Math.abs(is - wanted) < ALLOWED, `${what}: ${is}, not ${wanted}`);

  it("the region within tolerance is round the framing asked for, the tolerance wide in captured px, squeezed too", async () => {
    // 60 px of 6144 by 3456 captured px; the picture is shown without its squeeze of 1.33.
    const move = { ...slideBy, tolerance: { ...slideBy.tolerance, aim: 60 } };
    const { look } = instantsOf(move);
    const lens = await openCvLens(move.optics);
    await open(takeOf(move));
    for (const t of [0.3, 1.1, 2.6]) {
      const { shown, width, height } = await at(t);
      const { tolerance } = shown;
      assert.ok(tolerance && !tolerance.out);
      near(width / height, (0.036 * 1.33) / 0.02025, "the picture's shape");
      near(tolerance.radii[0], (60 / 6144) * width, "across");
      near(tolerance.radii[1], (60 / 3456) * height, "down");
      // The aim is solved, so the region's middle is where OpenCV sees what is aimed at; between targets that is neither.
      const instant = look(t);
      if (0 < instant.aimBlend && instant.aimBlend < 1) continue;
      const seen = seenBy(lens, instant, targetAt(instant, instant.aimBlend >= 1 ? instant.aimTo : instant.aimFrom));
      assert.ok(seen);
      near(tolerance.at[0], seen[0] * width, "middle across");
      near(tolerance.at[1], seen[1] * height, "middle down");
    }
    lens.close();
  });

  it("the region turns dashed and its colour changes while the subject is out of it, and a glass says by how much", async () => {
    const take = takeOf(topToFront);
    const samples = unpackTake(take.samples);
    // 10 px too far to the right, 2.5 times what the tolerance of 4 px leaves.
    const reached = Float64Array.from(samples.wanted!, (part, i) => (i % 2 === 0 ? part + 10 / 6144 : part));
    const look = (): Promise<string[]> =>
      tab.page.evaluate(() => {
        const region = document.querySelector(".tolerance ellipse")!;
        const { stroke, strokeDasharray } = getComputedStyle(region);
        return [stroke, strokeDasharray];
      });
    await open(take);
    const inside = await at(1);
    assert.equal(inside.shown.tolerance?.out, false);
    assert.equal(inside.shown.glass, "±4.0 px");
    const before = await look();
    await tab.send({ type: "take", answer: { take: { ...take, samples: packTake({ ...samples, reached }) } } });
    const outside = await tab.until((state) => state.picture?.lens?.shown?.tolerance?.out === true);
    assert.equal(outside.picture?.lens?.shown?.glass, "10 px off");
    const after = await look();
    assert.notEqual(after[0], before[0]);
    assert.deepEqual([before[1], after[1]], ["none", "3px, 2px"]);
  });

  it("the arrow of blur is the way that OpenCV sees the subject go while the shutter is open, through a distorted lens", async () => {
    // Aimed at nothing, so that what stands still passes; at the end of the exposure less at its beginning.
    const keys = slideBy.keys.map(({ aim: _, framing: __, ...key }, i) => ({
      ...key,
      axes: [...key.axes.filter(({ axis }) => axis !== 1 && axis !== 2), ...(i === 0 ? [{ axis: 1, value: -0.05, origin: 0 }, { axis: 2, value: 0.02, origin: 0 }] : [])],
    })); // prettier-ignore
    const move: ResolvedMove = { ...slideBy, keys };
    const { look, trajectory } = instantsOf(move);
    const lens = await openCvLens(move.optics);
    // A half turn of the shutter at 30000/1001 frames a second.
    const exposure = 1001 / 60_000;
    await open(takeOf(move));
    let compared = 0;
    for (const t of [0.31, 0.42, 0.55].map((share) => share * trajectory.duration)) {
      const { shown, width, height } = await at(t);
      move.targets.forEach((target, k) => {
        const arrow = shown.blur?.[k];
        // Wide steps, that OpenCV's 1/32 px counts for little: a smooth way is as long for its middle as for its ends.
        const wide = 0.15;
        const ends = [t - wide, t + wide].map((time) => seenBy(lens, look(time), targetAt(look(time), k)));
        if (!arrow || !ends[0] || !ends[1]) return;
        compared += 1;
        [width, height].forEach((size, axis) => {
          const way = ((ends[1]![axis] - ends[0]![axis]) * size * exposure) / (2 * wide);
          const drawn = (arrow[2 + axis] - arrow[axis]) / shown.blurFactor!;
          assert.ok(
            Math.abs(drawn - way) < 0.03 + 0.03 * Math.abs(way),
            `${target.name} at ${t} s: ${drawn}, not ${way}`,
          );
        });
        near(
          arrow[0] / width,
          move.targets.length > 0 ? seenBy(lens, look(t), targetAt(look(t), k))![0] : 0,
          "its foot",
        );
      });
    }
    assert.ok(compared >= 3, `${compared} arrows`);
    lens.close();
  });

  it("the margin is the crop and round it what stabilising, framing errors and passes need", async () => {
    // 5 % of 6144 by 3456 is 307.2 by 172.8 px, half of it on each side; the framing may be 4 px off; passes state nothing.
    await open(takeOf(topToFront));
    const { shown, width, height } = await at(1);
    const wanted = [3840 + 2 * (153.6 + 4), 2160 + 2 * (86.4 + 4)];
    const [w, h] = [(wanted[0] / 6144) * width, (wanted[1] / 3456) * height];
    [(width - w) / 2, (height - h) / 2, w, h].forEach((part, i) => near(shown.margin![i], part, `side ${i}`));
    assert.equal(shown.marginShort, false);
    assert.match((await tab.page.textContent(".margin text")) ?? "", /^margin 158 × 90 px$/);
  });

  it("a picture that is too small for its margin has a heavy line along its edge that says by how much", async () => {
    // Of 6144 px 6000 are delivered: 72 px are left on each side where 157.6 are needed, 36 px down where 90.4 are.
    await open(takeOf({ ...topToFront, deliver: [6000, 3384] }));
    const { shown, width, height } = await at(1);
    assert.equal(shown.marginShort, true);
    [1, 1, width - 2, height - 2].forEach((part, i) => near(shown.margin![i], part, `side ${i}`));
    assert.match((await tab.page.textContent(".margin text")) ?? "", /85\.6|86 px short/);
  });

  it("framing marks stand in what is delivered, and rest until they are wanted", async () => {
    // Of 6144 × 3456 px half is delivered: its frame of nine tenths is 0.45 of the picture.
    await open(takeOf({ ...topToFront, deliver: [3072, 1728] }));
    const { shown, width, height } = await at(1);
    [0.275 * width, 0.275 * height, 0.45 * width, 0.45 * height].forEach((part, i) =>
      near(shown.framing![i], part, `side ${i}`),
    );
    const isSeen = (): Promise<boolean> => tab.page.locator(".framing-marks .thirds").isVisible();
    assert.equal(await isSeen(), false);
    await tab.page.locator("summary", { hasText: "Show" }).click();
    await tab.page.getByRole("checkbox", { name: "Framing marks" }).click();
    await tab.page.keyboard.press("Escape");
    assert.equal(await isSeen(), true);
  });

  it("nothing is drawn of what a move does not state", async () => {
    const { lens: _, ...take } = takeOf({ ...topToFront, stabilise: 0, deliver: [6144, 3456], marks: [] });
    await open({ ...take, lens: {}, aims: [] });
    const { shown } = await at(1);
    assert.equal(shown.margin, undefined);
    assert.equal(shown.tolerance, null);
    assert.equal(shown.plate, null);
    assert.deepEqual(shown.marks, []);
    assert.equal(await tab.page.isVisible(".plate-bar"), false);
    assert.equal(await tab.page.locator(".lens-overlay .margin").getAttribute("visibility"), "hidden");
  });

  it("surveyed marks stand where OpenCV sees them", async () => {
    const places = [[2.2, 0.15, 0.9], [2.0, -0.3, 1.1], [-3, 0, 1]] as const; // prettier-ignore
    const move = { ...slideBy, marks: places.map((place, i) => ({ name: `m${i}`, at: place, origin: 0 })) };
    const { look } = instantsOf(move);
    const lens = await openCvLens(move.optics);
    await open(takeOf(move));
    const { shown, width, height } = await at(1.3);
    const instant = look(1.3);
    let seen = 0;
    places.forEach((place, i) => {
      const expected = seenBy(lens, instant, new Vector3(...place));
      const drawn = shown.marks?.[i];
      assert.equal(drawn === null, expected === null, `mark ${i}`);
      if (!drawn || !expected) return;
      seen += 1;
      near(drawn[0], expected[0] * width, `mark ${i} across`);
      near(drawn[1], expected[1] * height, `mark ${i} down`);
    });
    assert.ok(seen >= 1);
    lens.close();
  });
});
