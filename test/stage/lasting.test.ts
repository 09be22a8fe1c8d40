import assert from "node:assert/strict";
import type { StageTake } from "../../protocol/stage.ts";
import { topToFront } from "./moves.ts";
import { coloursIn, photograph } from "./screen.ts";
import { startStageHost, type StageHost, type StageTab } from "./stage-host.ts";
import { findings, takeOf } from "./take-of.ts";

describe("the stage lasts", () => {
  let host: StageHost;
  let take: StageTake;
  let tab: StageTab;
  before(async () => {
    host = await startStageHost();
    take = takeOf(topToFront, { findings });
  });
  after(() => host.close());
  afterEach(() => tab.close());

  it("through a restart of its page: time, view, tab, axis, speed", async () => {
    tab = await host.open({ answer: { take } });
    await tab.send({ type: "playhead", time: 2.4, key: 1 });
    await tab.page.keyboard.press("2");
    await tab.page.locator(".scene").focus();
    await tab.page.keyboard.press("+");
    await tab.page.keyboard.press("s");
    await tab.page.keyboard.press("l");
    await tab.page.click(".chips button:has-text('lift')");
    await tab.page.click("#tab-keys");
    await tab.settle();
    const before = await tab.state();
    // Kept a moment after the last change.
    await tab.page.waitForTimeout(400);
    const kept = await tab.kept();
    await tab.close();

    tab = await host.open({ kept });
    assert.deepEqual(await tab.messages(), [{ type: "ready", uri: take.uri }]);
    await tab.send({ type: "take", answer: { take } });
    await tab.settle();
    const after = await tab.state();
    assert.equal(after.time, 2.4);
    assert.equal(after.playing, false);
    assert.deepEqual(after.picture?.stage, before.picture?.stage);
    assert.ok(await tab.page.locator("#panel-keys").isVisible());
    assert.equal(await tab.page.locator("#panel-keys [aria-current=true] .name").textContent(), "over");
    assert.equal(await tab.page.locator(".transport select").inputValue(), "0.5");
    assert.equal(await tab.page.locator("[aria-label=Loop]").getAttribute("aria-pressed"), "true");
    await tab.page.click("#tab-graphs");
    assert.ok((await tab.page.locator(".axes [aria-pressed=true]").innerText()).startsWith("lift"));
    assert.deepEqual(tab.complaints, []);
  });

  it("through a state that is not its own", async () => {
    tab = await host.open({ kept: { time: "late", side: 7, viewpoints: [] }, answer: { take } });
    assert.equal((await tab.state()).time, 0);
    assert.deepEqual(tab.complaints, []);
  });

  it("through a move that cannot be solved: says so in place of the scene, lists the findings, and comes back", async () => {
    tab = await host.open({ answer: { take } });
    await tab.send({ type: "playhead", time: 2.4, key: 1 });
    const message = "The move can't be solved yet. `kit/boom.rig.yaml` is not there.";
    const problem = { uri: take.uri, version: 2, message, findings: findings.slice(0, 1) };
    await tab.send({ type: "take", answer: { problem } });
    await tab.settle();
    const state = await tab.state();
    assert.equal(state.message, message);
    assert.equal(state.version, 2);
    assert.deepEqual([state.keys, state.findings], [0, 1]);
    assert.ok(await tab.page.locator(".notice").isVisible());
    assert.ok(await tab.page.locator("[aria-label=Play]").isDisabled());
    await tab.page.click("#tab-findings");
    await tab.page.click("#panel-findings button");
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-finding", id: 0 });
    await tab.send({ type: "take", answer: { take: { ...take, version: 3 } } });
    await tab.settle();
    const back = await tab.state();
    assert.deepEqual([back.message, back.time, back.keys], ["", 2.4, 5]);
    assert.deepEqual(tab.complaints, []);
  });

  it("without WebGL: playing, graphs, values, findings and the marks of the lens go on", async () => {
    tab = await host.open({ answer: { take }, webgl: false });
    const state = await tab.state();
    assert.equal(state.webgl, false);
    assert.match(state.message, /WebGL 2 is missing/);
    await tab.page.keyboard.press("PageDown");
    await tab.settle();
    const next = await tab.state();
    assert.equal(next.time, 2.4);
    assert.equal(next.links.length, 3 * topToFront.rig.joints.length);
    assert.ok(next.picture?.lens?.targets[0]);
    await tab.page.click("#tab-values");
    assert.match(await tab.page.locator("#panel-values tr:has-text('lift') td").first().innerText(), /^30\.00 °$/);
    await tab.page.keyboard.press("Space");
    await tab.until((one) => one.time > 2.5);
    assert.deepEqual(tab.complaints, []);
  });

  it("through the loss of the graphics: says so, draws nothing meanwhile, and draws again", async () => {
    tab = await host.open({ answer: { take } });
    const lose = (what: "loseContext" | "restoreContext"): Promise<void> =>
      tab.page.evaluate((act) => {
        const canvas = document.querySelector(".pictures > canvas") as HTMLCanvasElement & {
          loss?: WEBGL_lose_context;
        };
        canvas.loss ??= canvas.getContext("webgl2")?.getExtension("WEBGL_lose_context") ?? undefined;
        canvas.loss?.[act]();
      }, what);
    await lose("loseContext");
    const lost = await tab.until((state) => !state.webgl);
    assert.match(lost.message, /graphics were lost/);
    await tab.page.keyboard.press(".");
    await tab.settle();
    assert.equal((await tab.state()).pictures, lost.pictures);
    await lose("restoreContext");
    const back = await tab.until((state) => state.webgl && state.pictures > lost.pictures);
    assert.equal(back.message, "");
    assert.equal(back.time, 0.04);
    await tab.settle();
    assert.ok(coloursIn(await photograph(tab.page), back.picture?.stage?.rectangle ?? []) > 200);
  });

  it("in a narrow panel, a low one and none at all", async () => {
    tab = await host.open({ answer: { take }, width: 300, height: 700 });
    const overflow = (): Promise<number> =>
      tab.page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.equal(await overflow(), 0);
    const state = await tab.state();
    assert.ok(state.picture?.stage && state.picture.stage.rectangle[2] > 250);
    assert.ok(state.picture.lens && state.picture.lens.rectangle[2] > 150);
    for (const size of [
      { width: 900, height: 240 },
      { width: 60, height: 40 },
      { width: 900, height: 900 },
    ]) {
      await tab.page.setViewportSize(size);
      await tab.settle();
      await tab.page.keyboard.press(".");
    }
    assert.equal((await tab.state()).time, 0.12);
    assert.deepEqual(tab.complaints, []);
  });
});
