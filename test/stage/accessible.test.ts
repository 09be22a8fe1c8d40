import assert from "node:assert/strict";
import type { StageTake } from "../../protocol/stage.ts";
import { complaintsOf } from "./axe.ts";
import { topToFront } from "./moves.ts";
import { startStageHost, type StageHost } from "./stage-host.ts";
import { findings, takeOf } from "./take-of.ts";
import type { Theme } from "./themes.ts";

const THEMES: readonly Theme[] = ["dark", "light", "high-contrast", "high-contrast-light"];

describe("the stage is accessible", () => {
  let host: StageHost;
  let take: StageTake;
  before(async () => {
    host = await startStageHost();
    take = takeOf(topToFront, { findings });
  });
  after(() => host.close());

  for (const theme of THEMES) {
    it(`to axe in the ${theme} theme: every tab, the help, a problem`, async () => {
      const tab = await host.open({ theme, answer: { take } });
      await tab.send({ type: "playhead", time: 4.4, key: 2 });
      const found: string[] = [];
      for (const name of ["graphs", "values", "keys", "findings"]) {
        await tab.page.click(`#tab-${name}`);
        await tab.settle();
        found.push(...(await complaintsOf(tab.page, name)));
      }
      await tab.page.click("#tab-graphs");
      await tab.page.click(".chips button:has-text('lift')");
      found.push(...(await complaintsOf(tab.page, "curves")));
      await tab.page.keyboard.press("v");
      await tab.settle();
      found.push(...(await complaintsOf(tab.page, "lens")));
      await tab.page.keyboard.press("?");
      found.push(...(await complaintsOf(tab.page, "help")));
      await tab.page.keyboard.press("Escape");
      await tab.send({
        type: "take",
        answer: { problem: { uri: "file:///a", version: 1, message: "Not there.", findings } },
      });
      found.push(...(await complaintsOf(tab.page, "problem")));
      await tab.close();
      assert.deepEqual(found, []);
    });
  }

  it("to axe in a narrow panel without WebGL", async () => {
    const tab = await host.open({ answer: { take }, width: 320, webgl: false });
    const found = await complaintsOf(tab.page, "narrow");
    await tab.close();
    assert.deepEqual(found, []);
  });

  it("says aloud where it stands and which axis uses most, but not while playing", async () => {
    const tab = await host.open({ answer: { take } });
    const spoken = tab.page.locator(".unseen[role=status]");
    // Where it stands when it opens is said too, before the key is pressed or after: only the next place is waited for.
    await tab.page.keyboard.press("PageDown");
    await spoken.filter({ hasText: "01:00:02:10" }).waitFor({ state: "attached" });
    assert.match((await spoken.textContent()) ?? "", /^01:00:02:10, frame 90060\. Highest share: \w+ \w+ \d+ %\.$/);
    await tab.page.keyboard.press("Space");
    await tab.until((state) => state.time > 3);
    const begun = (await spoken.textContent()) ?? "";
    assert.match(begun, /^Playing\. 01:00:02:10/);
    await tab.until((state) => state.time > 4);
    assert.equal(await spoken.textContent(), begun);
    await tab.close();
  });

  it("plays nothing by itself and moves nothing but the rig, with or without reduced motion", async () => {
    const tab = await host.open({ answer: { take } });
    await tab.page.emulateMedia({ reducedMotion: "reduce" });
    await tab.page.waitForTimeout(300);
    const state = await tab.state();
    assert.deepEqual([state.playing, state.time], [false, 0]);
    const moving = await tab.page.evaluate(
      () => [...document.querySelectorAll("*")].filter((one) => one.getAnimations().length > 0).length,
    );
    assert.equal(moving, 0);
    await tab.close();
  });

  it("follows the editor to another theme without a reload", async () => {
    const tab = await host.open({ answer: { take } });
    const before = (await tab.state()).pictures;
    await tab.page.evaluate(() => {
      document.documentElement.style.setProperty("--vscode-editor-background", "#ffffff");
      document.documentElement.style.setProperty("--vscode-editor-foreground", "#111111");
      document.body.className = "vscode-light";
    });
    await tab.settle();
    const state = await tab.state();
    assert.ok(state.pictures > before);
    const [left, top] = state.picture?.stage?.rectangle ?? [0, 0];
    const { photograph } = await import("./screen.ts");
    assert.deepEqual((await photograph(tab.page)).colour(left + 300, top + 4), [255, 255, 255]);
    assert.deepEqual(tab.complaints, []);
    await tab.close();
  });

  it("tells the shares of limits apart without colour: by width, hatching, signs and words", async () => {
    const tab = await host.open({ answer: { take } });
    const words = await tab.page.locator(".legend li").allInnerTexts();
    assert.deepEqual(words, ["under 60 %", "60 to 90 %", "90 to 100 %", "over a limit"]);
    const widths = await tab.page
      .locator(".legend li > svg > line:first-child")
      .evaluateAll((lines) => lines.map((line) => Number(line.getAttribute("stroke-width"))));
    assert.deepEqual(
      widths,
      [...widths].sort((a, b) => a - b),
    );
    assert.equal(new Set(widths).size, widths.length);
    const severities = await tab.page.locator("#panel-findings .name").allTextContents();
    assert.deepEqual(severities, ["error: axis-speed", "information: near-limit", "warning: unknown-field"]);
    await tab.close();
  });
});
