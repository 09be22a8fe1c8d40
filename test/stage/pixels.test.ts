import assert from "node:assert/strict";
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import { packTable } from "../../protocol/codec.ts";
import type { Body } from "../../core/rig/resolved-rig.ts";
import { linkPlaces, pixelsOf, stageCamera } from "./independent.ts";
import { slideBy, topToFront } from "./moves.ts";
import { centreOf, middleOf, photograph } from "./screen.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

/** A ball small enough that its picture's centre is the picture of its centre. */
const RADIUS = 0.03;
/** On a link it must show around the ring that marks the joint. */
const LINK_RADIUS = 0.105;
const AROUND = 24;

const ball = (link: number, at: readonly [number, number, number], radius: number): Body => ({
  name: "ball",
  link,
  pose: { at, turn: [0, 0, 0, 1] },
  solid: { shape: "sphere", radius },
  origin: 0,
});

/** How red a px is beside its green and blue: the balls are the only red things. Counts 1 for such a px. */
const isRed = (colour: readonly [number, number, number]): number =>
  colour[0] - Math.max(colour[1], colour[2]) > 6 ? 1 : 0;

/** The editor's theme with everything grey but for what is painted by one variable. */
async function onlyRed(tab: StageTab, name: string): Promise<void> {
  await tab.page.evaluate((red) => {
    const style = document.documentElement.style;
    for (const one of ["blue", "green", "yellow", "orange", "red", "purple"]) {
      style.setProperty(`--vscode-charts-${one}`, one === red ? "#ff0000" : "#808080");
    }
  }, name);
  await tab.settle();
}

// The reported places are what the stage means to draw; here the drawn pixels themselves are looked for.
describe("the pixels of the stage", () => {
  const host = useStageHost();

  let tab: StageTab;
  const show = async (
    move: ResolvedMove,
    t: number,
  ): Promise<NonNullable<Awaited<ReturnType<StageTab["state"]>>["picture"]>> => {
    const take = takeOf(move);
    // Seven tenths of a limit everywhere: the path then has a colour of its own.
    const share = packTable(new Float64Array(take.samples.count).fill(0.7), "f32");
    await tab.send({ type: "take", answer: { take: { ...take, samples: { ...take.samples, share } } } });
    await tab.send({ type: "playhead", time: t, key: -1 });
    await tab.settle();
    const { picture } = await tab.state();
    assert.ok(picture && Math.abs(picture.time - t) < 1e-9);
    return picture;
  };

  const lenses: [string, ResolvedMove][] = [
    ["a plain lens", topToFront],
    ["a lens distorted, squeezed and off its centre", slideBy],
  ];
  for (const [name, move] of lenses) {
    it(`show a ball at a target under the target's mark, through ${name}`, async () => {
      tab = await host.open({ width: 900, height: 640, kept: { panes: ["lens"], overlays: [] } });
      // People are painted with the theme's orange.
      await onlyRed(tab, "orange");
      const trajectory = runToEnd(planTrajectory(move));
      const instant = trajectory.createInstant();
      let checked = 0;
      for (const share of [0.1, 0.6, 0.95]) {
        const t = share * trajectory.duration;
        trajectory.at(t, instant);
        for (let k = 0; k < move.targets.length; k++) {
          const at = [...instant.targets.subarray(3 * k, 3 * k + 3)] as [number, number, number];
          const { lens } = await show({ ...move, obstacles: [], people: [ball(-1, at, RADIUS)] }, t);
          const mark = lens?.targets[k];
          assert.ok(lens && mark);
          const [left, top, width, height] = lens.rectangle;
          if (!within(mark[0], width) || !within(mark[1], height)) continue;
          // The marks would hide the ball's middle.
          await tab.page.evaluate(() => document.querySelector(".lens-overlay")?.setAttribute("visibility", "hidden"));
          const found = centreOf(await photograph(tab.page), around(left + mark[0], top + mark[1]), isRed);
          assert.ok(found.weight > 6, `${found.weight} px of the ball`);
          const off = Math.hypot(found.x - left - mark[0], found.y - top - mark[1]);
          assert.ok(off < 1, `target ${k} at ${t} s: the ball is ${off} px off its mark`);
          checked += 1;
        }
      }
      assert.ok(checked >= 6, `${checked} targets were in the frame`);
    });
  }

  it("show a ball on each link where an independent chain and camera put it", async () => {
    tab = await host.open({ width: 800, height: 700, kept: { panes: ["free"], overlays: [] } });
    // The rig's own colour is mixed from the theme's blue.
    await onlyRed(tab, "blue");
    const t = 5.3;
    const trajectory = runToEnd(planTrajectory(topToFront));
    const instant = trajectory.createInstant();
    trajectory.at(t, instant);
    const places = linkPlaces(topToFront, instant.value);
    for (let link = 0; link < places.length; link++) {
      const rig = { ...topToFront.rig, bodies: [ball(link, [0, 0, 0], LINK_RADIUS)] };
      const { stage } = await show({ ...topToFront, rig, obstacles: [], people: [] }, t);
      assert.ok(stage);
      const [left, top, width, height] = stage.rectangle;
      const expected = pixelsOf(stageCamera(stage), places[link], width, height);
      assert.ok(expected);
      const found = middleOf(await photograph(tab.page), around(left + expected[0], top + expected[1]), isRed);
      assert.ok(found.weight > 12, `${topToFront.rig.joints[link].name}: ${found.weight} px of the ball`);
      const off = Math.hypot(found.x - left - expected[0], found.y - top - expected[1]);
      assert.ok(off < 1, `${topToFront.rig.joints[link].name}: the ball is ${off} px off`);
    }
  });
});

const within = (at: number, size: number): boolean => AROUND < at && at < size - AROUND;
const around = (x: number, y: number): readonly number[] => [x - AROUND, y - AROUND, 2 * AROUND, 2 * AROUND];
