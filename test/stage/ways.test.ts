import assert from "node:assert/strict";
import type { StageFinding, StageTake } from "../../protocol/stage.ts";
import { topToFront } from "./moves.ts";
import { changedPixels, photograph } from "./screen.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

/** A finding that tells how near two things come, from 1 s to 2 s. */
const near: StageFinding = {
  id: 0,
  code: "clearance",
  severity: "error",
  message: "extension is 400 mm from plinth.",
  key: "top",
  time: { from: 1, to: 2 },
  peak: 1.5,
  segment: { from: [1.4, 0, 1.2], to: [1.8, 0, 1.2], label: "400 mm" },
};

describe("the shortest way that a finding tells", () => {
  const host = useStageHost();
  let tab: StageTab;
  let take: StageTake;

  before(() => {
    take = takeOf(topToFront, { findings: [near] });
  });
  beforeEach(async () => {
    tab = await host.open({ answer: { take } });
  });

  const goTo = async (time: number): Promise<readonly number[]> => {
    await tab.send({ type: "playhead", time, key: -1 });
    await tab.settle();
    return (await tab.state()).picture?.stage?.ways ?? [];
  };
  const labels = (): Promise<string[]> =>
    tab.page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>(".labels .way")].flatMap((label) =>
        label.hidden ? [] : [label.textContent ?? ""],
      ),
    );

  it("is drawn with its length while the playhead is in its time, and only then", async () => {
    assert.deepEqual(await goTo(0.5), []);
    assert.deepEqual(await labels(), []);
    const ways = await goTo(1.2);
    assert.equal(ways.length, 4);
    assert.deepEqual(await labels(), ["400 mm"]);
    const shown = await photograph(tab.page, process.env.STAGE_PICTURE);
    await goTo(2.5);
    assert.deepEqual(await labels(), []);
    const [x, y] = [(ways[0] + ways[2]) / 2, (ways[1] + ways[3]) / 2];
    const [left, top] = (await tab.state()).picture?.stage?.rectangle ?? [];
    assert.ok(changedPixels(shown, await photograph(tab.page), [left + x - 30, top + y - 30, 60, 60]) > 10);
  });

  it("is gone to at its nearest instant from the list of findings", async () => {
    await tab.page.getByRole("tab", { name: /Findings/ }).click();
    await tab.page.getByRole("button", { name: /clearance/ }).click();
    await tab.settle();
    assert.ok(Math.abs((await tab.state()).time - 1.5) < 1e-9);
    assert.deepEqual(await labels(), ["400 mm"]);
  });
});
