import assert from "node:assert/strict";
import type { StageTake } from "../../protocol/stage.ts";
import { topToFront } from "./moves.ts";
import { smallTake } from "./small-take.ts";
import type { StageTab } from "./stage-host.ts";
import { findings, takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

describe("the stage and the extension", () => {
  const host = useStageHost();
  let tab: StageTab;
  let take: StageTake;
  before(() => {
    take = takeOf(topToFront, { findings });
  });

  it("reveal a key whose mark is clicked, and go there", async () => {
    tab = await host.open({ answer: { take } });
    const { picture } = await tab.state();
    assert.ok(picture?.stage);
    const [left, top] = picture.stage.rectangle;
    const [x, y] = picture.stage.keys.slice(4, 6);
    await tab.page.mouse.click(left + x, top + y);
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-key", key: 2 });
    const state = await tab.state();
    assert.equal(state.time, 4.4);
    await tab.page.click("#tab-keys");
    assert.equal(await tab.page.locator("#panel-keys [aria-current=true] .name").textContent(), "turn");
  });

  it("tell a click from a drag", async () => {
    tab = await host.open({ answer: { take } });
    const stage = (await tab.state()).picture?.stage;
    assert.ok(stage);
    const [left, top, width, height] = stage.rectangle;
    const [x, y] = [left + stage.keys[0], top + stage.keys[1]];
    await tab.page.mouse.move(x, y);
    await tab.page.mouse.down();
    await tab.page.mouse.move(x + 60, y + 10, { steps: 4 });
    await tab.page.mouse.up();
    await tab.settle();
    assert.deepEqual(await tab.messages(), [{ type: "ready" }]);
    const turned = (await tab.state()).picture?.stage;
    assert.ok(turned);
    assert.notDeepEqual(turned.eye, stage.eye);
    assert.deepEqual(turned.centre, stage.centre);
    await tab.page.mouse.move(left + width / 2, top + height / 2);
    await tab.page.mouse.wheel(0, -300);
    await tab.settle();
    const near = (await tab.state()).picture?.stage;
    assert.ok(near);
    const away = (one: typeof near): number => Math.hypot(...one.eye.map((part, k) => part - one.centre[k]));
    assert.ok(away(near) < away(turned) * 0.8);
  });

  it("reveal a finding that is clicked, and show its axis and moment", async () => {
    tab = await host.open({ answer: { take } });
    await tab.page.click("#tab-findings");
    await tab.page.click("#panel-findings li:nth-child(1) button");
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-finding", id: 0 });
    assert.equal((await tab.state()).time, 3.2);
    await tab.page.click("#tab-graphs");
    assert.ok((await tab.page.locator(".axes [aria-pressed=true]").innerText()).startsWith("pan"));
  });

  it("draw the limits of the axis in its graphs, in words too", async () => {
    tab = await host.open({ answer: { take }, height: 1000 });
    await tab.page.click(".chips button:has-text('lift')");
    for (const graph of ["Position", "Speed", "Acceleration", "Jerk", "Shares"]) {
      await tab.page.locator(".which").getByText(graph, { exact: true }).click();
    }
    const words = await tab.page
      .locator(".plot")
      .evaluateAll((all) => all.map((one) => one.getAttribute("aria-label")));
    assert.equal(words.length, 4);
    assert.match(words[0] ?? "", /Position over the move: lift from .* low end -50\.00 °, high end 60\.00 °/);
    assert.match(words[1] ?? "", /Speed over the move: lift from .* limit 20\.00 °\/s, limit -20\.00 °\/s/);
    assert.match(words[2] ?? "", /limit 30\.00 °\/s²/);
    assert.match(words[3] ?? "", /limit 150\.00 °\/s³/);
  });

  it("stand where the cursor goes, and stop playing for it", async () => {
    tab = await host.open({ answer: { take } });
    await tab.page.keyboard.press("Space");
    await tab.send({ type: "playhead", time: 6.6, key: 3 });
    const state = await tab.state();
    assert.deepEqual([state.time, state.playing], [6.6, false]);
    assert.equal((await tab.messages()).length, 1, "a move of the cursor is not answered");
  });

  it("take an edit without losing the view, the time or what was chosen, and rebuild only what changed", async () => {
    tab = await host.open({ answer: { take } });
    await tab.send({ type: "playhead", time: 4.4, key: 2 });
    await tab.page.locator(".scene").focus();
    await tab.page.keyboard.press("ArrowRight");
    await tab.page.click("#tab-graphs");
    await tab.page.click(".chips button:has-text('swing')");
    await tab.settle();
    const before = await tab.state();
    const keys = topToFront.keys.map((one, i) => (i === 3 ? { ...one, time: 7 } : one));
    const edited = takeOf({ ...topToFront, keys }, { version: 2, findings: [] });
    await tab.send({ type: "take", answer: { take: edited } });
    await tab.settle();
    const after = await tab.state();
    assert.equal(after.version, 2);
    assert.equal(after.time, 4.4);
    assert.equal(after.findings, 0);
    assert.deepEqual(after.picture?.stage?.eye, before.picture?.stage?.eye);
    assert.ok((await tab.page.locator(".axes [aria-pressed=true]").innerText()).startsWith("swing"));
    // The path and the keys on it; the rig, the set, the camera, the floor and the marks of the targets stand.
    assert.equal((after.picture?.built ?? 0) - (before.picture?.built ?? 0), 2);
  });

  it("keep playing through an edit", async () => {
    tab = await host.open({ answer: { take } });
    await tab.page.keyboard.press("Space");
    await tab.until((state) => state.playing && state.time > 0);
    await tab.send({ type: "take", answer: { take: { ...take, version: 3 } } });
    assert.equal((await tab.state()).playing, true);
  });

  it("mark the last good result as such", async () => {
    tab = await host.open({ answer: { take } });
    assert.equal(await tab.page.locator(".stale").isVisible(), false);
    await tab.send({ type: "take", answer: { take: { ...take, stale: true } } });
    assert.equal(await tab.page.locator(".stale").isVisible(), true);
  });

  it("begin anew with another move", async () => {
    tab = await host.open({ answer: { take } });
    await tab.send({ type: "playhead", time: 4.4, key: 2 });
    await tab.send({ type: "take", answer: { take: smallTake() } });
    const state = await tab.state();
    assert.deepEqual([state.uri, state.time, state.keys], [smallTake().uri, 0, 2]);
    assert.equal(await tab.page.locator("h1").textContent(), "Small");
  });

  it("show 20,000 samples in as many draw calls as 200", async () => {
    tab = await host.open({ answer: { take } });
    const few = (await tab.state()).picture?.calls;
    await tab.send({ type: "take", answer: { take: takeOf(topToFront, { version: 2 }, 20_000) } });
    await tab.settle();
    const state = await tab.state();
    assert.equal(state.picture?.calls, few);
    assert.ok((few ?? Infinity) < 100, `${few} draw calls`);
  });

  it("leave alone what is not theirs", async () => {
    tab = await host.open({ answer: { take } });
    await tab.page.evaluate(() => {
      for (const data of [null, 7, {}, { type: "take" }, { type: "playhead", time: "soon" }])
        window.postMessage(data, "*");
    });
    await tab.settle();
    assert.equal((await tab.state()).time, 0);
  });
});
