import assert from "node:assert/strict";
import { unpackTake, packTake } from "../../protocol/codec.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { COUNT, longTake, NINE_PLOTS, turnWheel } from "./graph-turns.ts";
import { photograph } from "./screen.ts";
import { startStageHost, type StageHost, type StageTab } from "./stage-host.ts";

/** The sample that alone breaks the limit of pan. */
const SPIKE = 61_803;
const PAN = 1;

/** Places that a line has at most in a column of px: what it comes in at, its lowest, its highest, what it goes out at. */
const A_COLUMN = 4;

describe("graphs of 100,000 samples", function () {
  this.timeout(180_000);
  let host: StageHost;
  let tab: StageTab;
  let duration: number;
  before(async () => {
    host = await startStageHost();
    const take = spiked(longTake());
    duration = take.duration;
    tab = await host.open({ answer: { take }, kept: NINE_PLOTS, webgl: false, width: 1200, height: 1200 });
  });
  after(async () => {
    assert.deepEqual(tab.complaints, []);
    await host.close();
  });

  function spiked(plain: StageTake): StageTake {
    const samples = unpackTake(plain.samples);
    samples.speed[SPIKE * plain.axes.length + PAN] = 5;
    return { ...plain, samples: packTake(samples) };
  }

  it("are drawn after a zoom with a few places a column of px, with 20 lines in nine plots", async () => {
    const { graphs } = await tab.state();
    assert.equal(graphs?.plots.length, 9);
    const lines = graphs.plots.reduce((sum, plot) => sum + plot.lines.length, 0);
    assert.equal(lines, 20);
    const most = lines * A_COLUMN * Math.ceil(graphs.plots[0].rectangle[2] + 2);
    for (const { places } of await turnWheel(tab)) assert.ok(lines < places && places <= most, `${places} of ${most}`);
    await tab.settle();
    await tab.page.locator(".stack").focus();
    await tab.page.keyboard.press("0");
  });

  it("show a peak of one sample at every zoom, and go to it", async () => {
    const ink = async (): Promise<number> => {
      await tab.settle();
      const { graphs } = await tab.state();
      assert.ok(graphs);
      const plot = graphs.plots.find(({ title, unit }) => title === "Speed" && unit === "°/s");
      assert.ok(plot);
      const [left, top, width, height] = plot.rectangle;
      const screen = await photograph(tab.page);
      // Far above all other lines: only the spike draws there.
      let most = 0;
      const paper = screen.colour(Math.round(left + 3), Math.round(top + height * 0.25));
      for (let x = Math.ceil(left) + 2; x < left + width - 2; x++) {
        const [r, g, b] = screen.colour(x, Math.round(top + height * 0.25));
        most = Math.max(most, Math.abs(r - paper[0]) + Math.abs(g - paper[1]) + Math.abs(b - paper[2]));
      }
      return most;
    };
    const plot = await tab.page.locator(".u-over").first().boundingBox();
    assert.ok(plot);
    await tab.page.mouse.move(plot.x + (plot.width * SPIKE) / COUNT, plot.y + 10);
    for (let zoom = 0; zoom < 5; zoom++) {
      assert.ok((await ink()) > 60, `lost after ${zoom} turns`);
      await tab.page.mouse.wheel(0, -600);
    }
    await tab.page.mouse.move(5, 5);
    await tab.page.locator(".stack").focus();
    await tab.page.keyboard.press("0");
    await tab.page.keyboard.press("p");
    await tab.settle();
    const { graphs, time } = await tab.state();
    assert.match(graphs?.peak ?? "", /^Peak 1 of \d+: .*pan/);
    assert.ok(Math.abs(time - (duration * SPIKE) / (COUNT - 1)) < 1e-6, `${time}`);
  });

  it("draw no curve anew while the playhead moves", async () => {
    await tab.page.evaluate(() => {
      const counted = window as typeof window & { strokes: number };
      counted.strokes = 0;
      const { stroke } = CanvasRenderingContext2D.prototype;
      CanvasRenderingContext2D.prototype.stroke = function (...given: unknown[]) {
        if (this.canvas.closest(".plot")) counted.strokes += 1;
        return (stroke as (...all: unknown[]) => void).apply(this, given);
      };
    });
    const strokes = (): Promise<number> =>
      tab.page.evaluate(() => (window as typeof window & { strokes: number }).strokes);
    const heads = (): Promise<string[]> =>
      tab.page.locator(".playhead").evaluateAll((all) => all.map((one) => (one as HTMLElement).style.transform));
    const before = await heads();
    await tab.page.keyboard.press("Home");
    await tab.page.keyboard.press("Space");
    await tab.until((state) => state.time > 0.3);
    await tab.page.keyboard.press("Space");
    assert.equal(await strokes(), 0);
    assert.notDeepEqual(await heads(), before);
    await tab.page.locator(".stack").focus();
    await tab.page.keyboard.press("+");
    await tab.settle();
    assert.ok((await strokes()) > 0, "a zoom is counted");
  });
});
