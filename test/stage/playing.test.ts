import assert from "node:assert/strict";
import type { StageTake } from "../../protocol/stage.ts";
import { topToFront } from "./moves.ts";
import { changedPixels, coloursIn, photograph } from "./screen.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

describe("the stage plays", () => {
  const host = useStageHost();
  let take: StageTake;
  let tab: StageTab;

  before(() => {
    take = takeOf(topToFront);
  });
  beforeEach(async () => {
    tab = await host.open({ answer: { take } });
  });

  const sceneBox = async (): Promise<readonly number[]> => (await tab.state()).picture?.stage?.rectangle ?? [];

  it("says that it is ready, and draws the rig, the set and the path", async () => {
    assert.deepEqual(await tab.messages(), [{ type: "ready" }]);
    const state = await tab.state();
    assert.equal(state.webgl, true);
    assert.equal(state.message, "");
    assert.equal(state.uri, take.uri);
    assert.equal(state.version, take.version);
    assert.equal(state.keys, 5);
    assert.equal(state.timecode, "01:00:00:00");
    assert.ok(coloursIn(await photograph(tab.page), await sceneBox()) > 200);
  });

  it("moves the rig when it is played, and only then", async () => {
    const box = await sceneBox();
    const before = await photograph(tab.page);
    await tab.page.waitForTimeout(300);
    assert.equal(changedPixels(before, await photograph(tab.page), box), 0);
    await tab.page.keyboard.press("Space");
    await tab.until((state) => state.time > 2);
    await tab.page.keyboard.press("Space");
    await tab.settle();
    assert.equal((await tab.state()).playing, false);
    assert.ok(changedPixels(before, await photograph(tab.page), box) > 400);
  });

  it("plays from a time that somebody asks for, where motion is to be reduced too", async () => {
    await tab.page.emulateMedia({ reducedMotion: "reduce" });
    await tab.send({ type: "play", time: 4.4 });
    const state = await tab.until(({ playing, time }) => playing && time > 4.5);
    assert.ok(state.time < take.duration);
    // Asked again while it plays, it goes back there and plays on.
    await tab.send({ type: "play", time: 1 });
    await tab.until(({ playing, time }) => playing && time > 1 && time < 4);
    await tab.send({ type: "play", time: take.duration });
    await tab.until(({ playing, time }) => !playing && time === take.duration);
  });

  it("draws nothing while nothing changes, and each picture while it plays", async () => {
    await tab.page.waitForTimeout(200);
    const resting = (await tab.state()).pictures;
    await tab.page.waitForTimeout(700);
    assert.equal((await tab.state()).pictures, resting);
    await tab.page.keyboard.press("Space");
    await tab.until((state) => state.playing && state.pictures > resting + 5);
    await tab.page.keyboard.press("Space");
    await tab.settle();
    const after = (await tab.state()).pictures;
    await tab.page.waitForTimeout(500);
    assert.equal((await tab.state()).pictures, after);
  });

  it("stops at the end, or goes round", async () => {
    await tab.page.keyboard.press("End");
    await tab.page.keyboard.press(",");
    await tab.page.keyboard.press("Space");
    assert.equal((await tab.until((state) => !state.playing)).time, 9);
    await tab.page.keyboard.press(",");
    await tab.page.keyboard.press("l");
    await tab.page.keyboard.press("Space");
    const round = await tab.until((state) => state.time < 5);
    assert.equal(round.playing, true);
  });

  it("seeks by the slider, by the graphs and by messages, all to the same instant", async () => {
    const slider = tab.page.locator(".scrub input");
    const box = await slider.boundingBox();
    assert.ok(box);
    await tab.page.mouse.click(box.x + box.width / 2, box.y + 6);
    assert.ok(Math.abs((await tab.state()).time - 4.5) < 0.02);
    const plot = await tab.page.locator(".curve .u-over").first().boundingBox();
    assert.ok(plot);
    await tab.page.mouse.click(plot.x + plot.width / 3, plot.y + 20);
    assert.ok(Math.abs((await tab.state()).time - 3) < 0.02);
    await tab.send({ type: "playhead", time: 6.6, key: 3 });
    await tab.settle();
    const state = await tab.state();
    assert.equal(state.time, 6.6);
    assert.equal(state.picture?.time, 6.6);
    // The playheads of the slider and of the graph stand over that time.
    const [head, line] = await tab.page.evaluate(() =>
      [".scrub .head", ".curve .playhead"].map((one) => document.querySelector(one)?.getBoundingClientRect().x ?? NaN),
    );
    assert.ok(Math.abs(head - (box.x + (box.width * 6.6) / 9)) < 2, `slider's playhead at ${head}`);
    assert.ok(Math.abs(line - (plot.x + (plot.width * 6.6) / 9)) < 2, `graph's playhead at ${line}`);
  });

  it("caps the px that it draws at two a CSS px", async () => {
    const dense = await host.open({ answer: { take }, ratio: 3, width: 500, height: 500 });
    const [drawn, shown] = await dense.page.evaluate(() => {
      const canvas = document.querySelector(".pictures > canvas") as HTMLCanvasElement;
      return [canvas.width, canvas.clientWidth];
    });
    assert.equal(drawn, 2 * shown);
    await dense.close();
  });
});
