import assert from "node:assert/strict";
import { Vector3 } from "three";
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Instant } from "../../core/motion/trajectory.ts";
import type { StageGhost } from "../../protocol/stage-ghost.ts";
import { complaintsOf } from "./axe.ts";
import { linkPlaces, pixelsOf, plainLensCamera, stageCamera } from "./independent.ts";
import { slideBy, topToFront } from "./moves.ts";
import { changedPixels, photograph } from "./screen.ts";
import type { StageHost, StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

/** The same move, half a metre to the side, its framing shifted, its last key two seconds later. */
const BEFORE: ResolvedMove = {
  ...topToFront,
  base: { ...topToFront.base, y: topToFront.base.y - 0.1 },
  keys: topToFront.keys.map((key, k, all) => ({
    ...key,
    framing: key.framing && [key.framing[0] + 0.05, key.framing[1]],
    time: k === all.length - 1 ? key.time + 2 : key.time,
  })),
};

const ghostOf = (move: ResolvedMove, more: Partial<StageGhost> = {}): StageGhost => ({
  label: "HEAD (1a2b3c4)",
  take: takeOf(move),
  notes: [],
  ...more,
});

function instantOf(move: ResolvedMove, t: number): Instant {
  const trajectory = runToEnd(planTrajectory(move));
  const instant = trajectory.createInstant();
  trajectory.at(t, instant);
  return instant;
}

const apart = (a: ArrayLike<number>, b: ArrayLike<number>): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe("a move and its ghost", function () {
  this.timeout(180_000);
  const host = useStageHost();
  let tab: StageTab;
  const open = async (ghost: StageGhost, more: Parameters<StageHost["open"]>[0] = {}) => {
    tab = await host.open({ width: 1100, height: 760, answer: { take: takeOf(topToFront) }, ...more });
    await tab.send({ type: "ghost", ghost });
    await tab.settle();
  };
  const at = async (time: number) => {
    await tab.send({ type: "playhead", time, key: -1 });
    await tab.settle();
    const state = await tab.until(({ ghost }) => ghost === undefined || ghost.words.includes("most"));
    assert.ok(state.ghost && state.picture?.lens && state.picture.stage);
    return { ghost: state.ghost, lens: state.picture.lens, stage: state.picture.stage };
  };

  it("stand where three's scene graph puts both, with arrows from where the ghost's camera sees the targets", async () => {
    await open(ghostOf(BEFORE));
    for (const t of [0.7, 3.3, 5.9]) {
      const { ghost, lens, stage } = await at(t);
      const [now, then] = [instantOf(topToFront, t), instantOf(BEFORE, t)];
      assert.ok(Math.abs(ghost.time - t) < 1e-9);
      assert.ok(Math.abs(ghost.pupil - apart(now.position, then.position)) < 2e-4, `${ghost.pupil} m at ${t} s`);
      linkPlaces(BEFORE, then.value).forEach((place, k) =>
        assert.ok(apart(ghost.links.slice(3 * k, 3 * k + 3), place.toArray()) < 1e-3, `link ${k} at ${t} s`),
      );
      const [, , width, height] = lens.rectangle;
      const camera = plainLensCamera(BEFORE.optics, then);
      let looked = 0;
      BEFORE.targets.forEach(({ name }, k) => {
        const seen = pixelsOf(camera, new Vector3().fromArray(then.targets, 3 * k), width, height);
        const mark = ghost.marks.find((one) => one.name === name);
        if (!seen || !mark) return;
        assert.ok(Math.hypot(seen[0] - mark.from[0], seen[1] - mark.from[1]) < 1, `${name} at ${t} s`);
        looked += 1;
      });
      assert.ok(looked >= 2, `${looked} targets were looked at`);
      // Hollow keys on the ghost's own path, and in the picture of the stage.
      const keys = BEFORE.keys.map(({ time }) => instantOf(BEFORE, time).position);
      keys.forEach((place, k) => assert.ok(apart(ghost.keys.slice(3 * k, 3 * k + 3), place) < 1e-3, `key ${k}`));
      assert.ok(stageCamera(stage));
    }
  });

  it("tell what differs now, and where it differs most, and go there", async () => {
    await open(ghostOf(BEFORE));
    const { ghost } = await at(5.9);
    const [now, then] = [instantOf(topToFront, 5.9), instantOf(BEFORE, 5.9)];
    const mm = (1000 * apart(now.position, then.position)).toFixed(1);
    assert.ok(ghost.words.includes(`Pupil ${mm} mm`), ghost.words);
    // The framing of the aimed-at target differs by 0.05 of 6144 captured px all the while, the motion aside.
    assert.match(ghost.words, /spout 3\d\d px/);
    assert.match(ghost.words, /with\s*HEAD \(1a2b3c4\)/);
    assert.ok(ghost.words.includes("This move takes 9 s, HEAD (1a2b3c4) 11 s."), ghost.words);
    const button = tab.page.locator(".ghost-value .link").first();
    const label = (await button.textContent()) ?? "";
    await button.click();
    const gone = await tab.state();
    assert.ok(label.endsWith(`at ${gone.timecode}`), `${label} went to ${gone.timecode}`);
    // The largest distance between the pupils, looked for by brute force.
    const [a, b] = [topToFront, BEFORE].map((move) => runToEnd(planTrajectory(move)));
    const [p, q] = [a.createInstant(), b.createInstant()];
    let most = 0;
    for (let t = 0; t <= 9; t += 0.005) {
      a.at(t, p);
      b.at(t, q);
      most = Math.max(most, apart(p.position, q.position));
    }
    assert.ok(Math.abs(1000 * most - parseFloat(label)) < 0.2, `${label}, found ${1000 * most} mm`);
    assert.ok(Math.abs((gone.ghost?.pupil ?? 0) - most) < 2e-4);
  });

  it("are set against each other by time or by share of the move", async () => {
    await open(ghostOf(BEFORE));
    await tab.page.getByLabel("Moments that are compared").selectOption("share");
    const { ghost } = await at(4.5);
    assert.equal(ghost.alignment, "share");
    assert.ok(Math.abs(ghost.time - (4.5 * 11) / 9) < 1e-9);
    // By time the shorter ends first: here the ghost.
    await tab.send({ type: "ghost", ghost: ghostOf({ ...topToFront, keys: topToFront.keys.slice(0, 3) }) });
    await tab.page.getByLabel("Moments that are compared").selectOption("time");
    const late = await at(8);
    assert.ok(Math.abs(late.ghost.time - 4.4) < 1e-9);
    assert.match(late.ghost.words, /Pupil –/);
    assert.match(late.ghost.words, /Beyond 01:00:04:10 there is nothing to compare with\./);
  });

  it("compare other rigs, cameras and targets by what both have", async () => {
    await open(ghostOf({ ...slideBy, targets: [{ ...slideBy.targets[0], name: "cup" }, ...slideBy.targets.slice(1)] }));
    const { ghost } = await at(2);
    assert.match(ghost.words, /Only this move has axis dolly, axis column, .*target lid\./);
    assert.match(ghost.words, /Only HEAD \(1a2b3c4\) has axis slide, target cup\./);
    assert.deepEqual(
      ghost.marks.map(({ name }) => name).filter((name) => name !== "spout" && name !== "handle"),
      [],
    );
    assert.equal(ghost.links.length, 3 * slideBy.rig.joints.length);
  });

  it("show in the pictures, and no more once they are hidden or over", async () => {
    await open(ghostOf(BEFORE));
    const { stage, lens } = await at(3.3);
    const both = await photograph(tab.page, process.env.GHOST_PICTURE);
    await tab.page.getByText("Show", { exact: true }).click();
    await tab.page.getByLabel("Move compared with").uncheck();
    await tab.page.keyboard.press("Escape");
    await tab.settle();
    const hidden = await photograph(tab.page);
    assert.ok(changedPixels(both, hidden, stage.rectangle) > 300, "the ghost is on the stage");
    assert.ok(changedPixels(both, hidden, lens.rectangle) > 60, "its marks are in the view through the lens");
    assert.deepEqual((await tab.state()).ghost?.links, []);
    await tab.send({ type: "ghost", ghost: null });
    await tab.settle();
    const { ghost } = await tab.state();
    assert.equal(ghost, undefined);
    assert.equal(await tab.page.locator(".ghost-bar").isVisible(), false);
  });

  it("stay when the text changes, and are there when the take comes after them", async () => {
    tab = await host.open({ width: 1100, height: 760 });
    await tab.send({ type: "ghost", ghost: ghostOf(BEFORE) });
    assert.equal((await tab.state()).ghost, undefined);
    await tab.send({ type: "take", answer: { take: takeOf(topToFront) } });
    await tab.settle();
    const first = await at(3.3);
    await tab.send({ type: "take", answer: { take: takeOf({ ...topToFront, base: BEFORE.base }, { version: 2 }) } });
    await tab.settle();
    const second = await at(3.3);
    assert.equal(second.ghost.label, first.ghost.label);
    assert.ok(second.ghost.pupil < first.ghost.pupil);
  });

  it("are asked for and ended from the stage, by the keyboard too", async () => {
    await open(ghostOf(BEFORE));
    await tab.page.getByText("Compare", { exact: true }).focus();
    await tab.page.keyboard.press("Enter");
    for (const name of ["With a revision…", "With another move…"]) {
      await tab.page.getByRole("button", { name }).click();
      await tab.page.getByText("Compare", { exact: true }).click();
    }
    await tab.page.getByRole("button", { name: "Stop comparing" }).first().click();
    const wishes = (await tab.messages()).flatMap((message) => (message.type === "compare" ? [message.wish] : []));
    assert.deepEqual(wishes, ["revision", "move", "stop"]);
  });

  for (const [theme, width] of [["dark", 1100], ["light", 420]] as const) {
    it(`pass what axe looks for, ${theme}, ${width} px wide`, async () => {
      await open(ghostOf(BEFORE, { notes: ["a.camera.yaml is taken as it is now."] }), { theme, width });
      await tab.page.getByText("Differences", { exact: true }).click();
      await tab.settle();
      if (process.env.GHOST_PICTURE) await tab.page.screenshot({ path: `${process.env.GHOST_PICTURE}-${theme}.png` });
      assert.deepEqual(await complaintsOf(tab.page, theme), []);
    });
  } // prettier-ignore
});
