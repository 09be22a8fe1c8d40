import assert from "node:assert/strict";
import { Vector3 } from "three";
import { runToEnd } from "../../core/base/task.ts";
import { passVariant } from "../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { StagePicturedOverlays } from "../../protocol/stage-overlays.ts";
import type { ReachWish } from "../../protocol/stage-reach.ts";
import type { FromStage, StageFinding, StageState } from "../../protocol/stage.ts";
import { stagePasses } from "../../server/service/stage/stage-passes.ts";
import { stageReach } from "../../server/service/stage/stage-reach.ts";
import { DEG } from "../support/rigs.ts";
import { pixelsOf, stageCamera } from "./independent.ts";
import { topToFront } from "./moves.ts";
import { changedPixels, photograph } from "./screen.ts";
import type { PageOptions, StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

const repeat: Readonly<Record<string, number>> = {
  dolly: 0.2e-3,
  swing: 0.004 * DEG,
  pan: 0.004 * DEG,
  tilt: 0.004 * DEG,
};
const sure = <T extends { readonly name: string }>(one: T): T =>
  one.name in repeat ? { ...one, repeat: { sigma: repeat[one.name], slip: 1e-4, origin: 0 } } : one;

/** The boom whose axes state how they repeat, in three kinds of pass, two of them with a target off its place. */
const move: ResolvedMove = {
  ...topToFront,
  rig: { ...topToFront.rig, joints: topToFront.rig.joints.map(sure) },
  axes: topToFront.axes.map(sure),
  passes: [
    { name: "hero", times: 1, targets: {}, origin: 0, timesOrigin: 0 },
    { name: "tall", times: 3, targets: { 0: [0, 0, 0.12], 1: [0, 0, 0.12] }, origin: 0, timesOrigin: 0 },
    { name: "small", times: 2, targets: { 0: [0.05, 0, -0.08], 1: [0, 0, -0.08] }, origin: 0, timesOrigin: 0 },
  ],
};
const trajectory = runToEnd(planTrajectory(move));
const uri = takeOf(move).uri;

const near: StageFinding = {
  id: 0,
  code: "clearance",
  severity: "error",
  message: "inner arm is 400 mm from plinth.",
  time: { from: 1, to: 2 },
  peak: 1.5,
  segment: { from: [1.4, 0, 1.2], to: [1.8, 0, 1.2], label: "400 mm" },
  bodies: { part: "inner arm", target: "plinth" },
};

describe("overlays that are found on demand", function () {
  this.timeout(180_000);
  const host = useStageHost();
  let tab: StageTab;

  const open = async (options: PageOptions = {}, findings: readonly StageFinding[] = []): Promise<void> => {
    tab = await host.open({ answer: { take: takeOf(move, { findings }) }, width: 1100, height: 800, ...options });
  };
  const goTo = async (time: number): Promise<StageState> => {
    await tab.send({ type: "playhead", time, key: -1 });
    await tab.settle();
    return tab.state();
  };
  const overlaysOf = ({ picture }: StageState): StagePicturedOverlays => picture?.stage?.overlays ?? {};
  const show = async (name: string): Promise<void> => {
    await tab.page.locator("summary", { hasText: "Show" }).click();
    await tab.page.getByRole("checkbox", { name }).click();
    await tab.page.keyboard.press("Escape");
    await tab.settle();
  };
  const asked = async <K extends FromStage["type"]>(type: K): Promise<Extract<FromStage, { type: K }>[]> =>
    (await tab.messages()).filter((message): message is Extract<FromStage, { type: K }> => message.type === type);
  const answerReach = async (wish: ReachWish): Promise<void> => {
    const reach = runToEnd(stageReach(uri, 1, { move, trajectory }, wish));
    await tab.send({ type: "reach", reach });
    await tab.settle();
  };
  const panel = (): Promise<string> => tab.page.locator(".overlay-panel").innerText();

  it("sweep the rig through the take or between two keys, and say how closely", async () => {
    await open();
    const before = await photograph(tab.page);
    await show("Swept space");
    const whole = await tab.until((state) => (overlaysOf(state).swept?.triangles ?? 0) > 0);
    assert.match(
      overlaysOf(whole).swept?.words ?? "",
      /^Swept by rig, camera and lens, within \d+ mm; meshes by their hulls\.$/,
    );
    const [left, top, width, height] = whole.picture?.stage?.rectangle ?? [];
    const shot = await photograph(tab.page, process.env.STAGE_PICTURE && `${process.env.STAGE_PICTURE}-swept.png`);
    assert.ok(changedPixels(before, shot, [left, top, width, height]) > 3000);
    await tab.page.getByLabel("Swept to").selectOption("1");
    const part = await tab.until((state) => {
      const { words, triangles = 0 } = overlaysOf(state).swept ?? {};
      return words?.startsWith("Swept by") === true && triangles < overlaysOf(whole).swept!.triangles;
    });
    assert.ok(overlaysOf(part).swept!.triangles > 0);
    // Edits that leave the motion alone find nothing anew; another motion is swept.
    await tab.send({ type: "take", answer: { take: takeOf(move, { version: 2 }) } });
    await tab.settle();
    assert.deepEqual(overlaysOf(await tab.state()).swept, overlaysOf(part).swept);
    const keys = move.keys.map((one) => ({
      ...one,
      axes: one.axes.map((axis) => ({ ...axis, value: axis.value * 0.9 })),
    }));
    await tab.send({ type: "take", answer: { take: takeOf({ ...move, keys }, { version: 3 }) } });
    await tab.until((state) => {
      const { words, triangles = 0 } = overlaysOf(state).swept ?? {};
      return words?.startsWith("Swept by") === true && triangles > 0 && triangles !== overlaysOf(part).swept!.triangles;
    });
  });

  it("ask for the reach of the camera at a height, then for the whole, and draw what is answered", async () => {
    await open();
    await show("Reach of the camera");
    const [{ wish }] = await asked("reach");
    assert.equal(wish.kind, "section");
    trajectory.poseAt(0, trajectory.createInstant());
    await answerReach(wish);
    const section = overlaysOf(await tab.state()).reach;
    assert.ok((section?.triangles ?? 0) > 1000, JSON.stringify(section));
    assert.match(section?.words ?? "", /^Entrance pupil, looking any way, tried every \d+(\.\d+)? cm\.$/);
    await photograph(tab.page, process.env.STAGE_PICTURE && `${process.env.STAGE_PICTURE}-section.png`);
    await tab.page.getByLabel("Height of the section in metres").fill("1.5");
    await tab.page.keyboard.press("Tab");
    assert.deepEqual((await asked("reach")).at(-1)?.wish, { kind: "section", height: 1.5 });
    await tab.page.getByLabel("Reach as").selectOption("shell");
    assert.deepEqual((await asked("reach")).at(-1)?.wish, { kind: "shell" });
    // An answer to what is no longer wanted changes nothing.
    await tab.settle();
    const before = overlaysOf(await tab.state()).reach;
    await answerReach({ kind: "section", height: 1.5 });
    assert.deepEqual(overlaysOf(await tab.state()).reach, before);
    await answerReach({ kind: "shell" });
    assert.notEqual(overlaysOf(await tab.state()).reach?.triangles, before?.triangles);
    await photograph(tab.page, process.env.STAGE_PICTURE && `${process.env.STAGE_PICTURE}-shell.png`);
    const count = (await asked("reach")).length;
    await tab.send({ type: "take", answer: { take: takeOf(move, { version: 2 }) } });
    await tab.settle();
    assert.equal((await asked("reach")).length, count, "an edit that leaves rig and base alone asks for nothing");
  });

  it("say why a reach is not told", async () => {
    await open();
    await show("Reach of the camera");
    const [{ wish }] = await asked("reach");
    await tab.send({ type: "reach", reach: { uri, version: 1, wish, problem: "The move can't be solved yet." } });
    await tab.settle();
    assert.match(await panel(), /can't be solved yet/);
  });

  it("play passes over each other where their own motion has them, with the pass error about the subject", async () => {
    await open();
    await show("Spread of the passes");
    assert.equal((await asked("passes")).length, 1);
    const passes = runToEnd(stagePasses(uri, 1, { move, trajectory }));
    assert.ok("passes" in passes);
    await tab.send({ type: "passes", passes });
    for (const t of [0.9, 3.3, 6]) {
      const state = await goTo(t);
      const told = overlaysOf(state).passes;
      const stage = state.picture?.stage;
      assert.ok(told && stage);
      const camera = stageCamera(stage);
      const [, , width, height] = stage.rectangle;
      move.passes.forEach((pass, i) => {
        // Solved anew here: the pass is a move of its own.
        const own = runToEnd(planTrajectory(passVariant(move, pass)));
        const instant = own.createInstant();
        own.at(t, instant);
        const pupil = pixelsOf(camera, new Vector3(...instant.position), width, height)!;
        assert.ok(
          Math.hypot(told.pupils[2 * i] - pupil[0], told.pupils[2 * i + 1] - pupil[1]) < 1,
          `${pass.name} at ${t} s`,
        );
        move.targets.forEach((_, k) => {
          const wanted = pixelsOf(camera, new Vector3(...instant.targets.subarray(3 * k, 3 * k + 3)), width, height)!;
          const at = 2 * (i * move.targets.length + k);
          assert.ok(
            Math.hypot(told.targets[at] - wanted[0], told.targets[at + 1] - wanted[1]) < 1,
            `target ${k} of ${pass.name}`,
          );
        });
      });
      assert.equal(told.radii[0], 0);
      assert.ok(told.radii[2]! > told.radii[1]! && told.radii[1]! > 0.5, JSON.stringify(told.radii));
      const lens = state.picture?.lens;
      const scale = (lens!.rectangle[2] / move.optics.resolution[0]) * told.magnified;
      assert.equal(lens?.passRadii?.length, 2);
      lens?.passRadii?.forEach((radius, i) => assert.ok(Math.abs(radius - told.radii[i + 1]! * scale) < 1e-6));
      assert.ok(told.magnified >= 2);
    }
    const words = await panel();
    assert.match(words, /pass 1 hero, plays as the move/);
    assert.match(words, /passes 2 to 4 tall\n/);
    assert.match(words, /drawn \d+ times as large; 1\.5 px are allowed/);
    await photograph(tab.page, process.env.STAGE_PICTURE && `${process.env.STAGE_PICTURE}-passes.png`);
  });

  it("rest with a reason where there is nothing to ask", async () => {
    tab = await host.open({ answer: { take: takeOf(topToFront) } });
    await tab.page.locator("summary", { hasText: "Show" }).click();
    const entry = tab.page.getByRole("checkbox", { name: "Spread of the passes" });
    assert.equal(await entry.getAttribute("aria-disabled"), "true");
    assert.match(
      await tab.page.getByRole("group", { name: "What is drawn" }).innerText(),
      /The move names no `passes`\./,
    );
  });

  it("outline and name the two bodies of the finding that was chosen, in its time", async () => {
    await open({}, [near]);
    assert.equal(overlaysOf(await goTo(1.5)).pair, undefined);
    await tab.page.getByRole("tab", { name: /Findings/ }).click();
    await tab.page.getByRole("button", { name: /clearance/ }).click();
    await tab.settle();
    const state = await tab.state();
    // Twelve edges of a box each.
    assert.deepEqual(overlaysOf(state).pair, { names: ["inner arm", "plinth"], strokes: 24 });
    const labels = await tab.page.locator(".labels .part:not([hidden])").allTextContents();
    assert.deepEqual(labels.sort(), ["inner arm", "plinth"]);
    await photograph(tab.page, process.env.STAGE_PICTURE && `${process.env.STAGE_PICTURE}-pair.png`);
    assert.equal(overlaysOf(await goTo(3)).pair, undefined);
  });

  it("are looked at in a light theme and a narrow panel", async () => {
    await open({ width: 420, height: 760, theme: "light" });
    for (const name of ["Reach of the camera", "Spread of the passes", "Swept space"]) await show(name);
    await answerReach((await asked("reach"))[0].wish);
    await tab.send({ type: "passes", passes: runToEnd(stagePasses(uri, 1, { move, trajectory })) });
    await tab.until((state) => (overlaysOf(state).swept?.triangles ?? 0) > 0);
    await photograph(tab.page, process.env.STAGE_PICTURE && `${process.env.STAGE_PICTURE}-narrow.png`);
    const box = (await tab.page.locator(".overlay-panel").boundingBox())!;
    const scene = (await tab.state()).picture!.stage!.rectangle;
    assert.ok(scene[0] <= box.x && box.x + box.width <= scene[0] + scene[2] + 1, JSON.stringify([box, scene]));
    assert.ok(box.y >= scene[1] - 1, "the panel stays within its pane");
  });
});
