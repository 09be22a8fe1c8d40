import assert from "node:assert/strict";
import { topToFront } from "./moves.ts";
import type { StageTab } from "./stage-host.ts";
import { findings, takeOf } from "./take-of.ts";
import { useStageHost } from "./use-stage-host.ts";

describe("the stage by keyboard", () => {
  const host = useStageHost();
  let tab: StageTab;
  const take = takeOf(topToFront, { findings });

  beforeEach(async () => {
    tab = await host.open({ answer: { take } });
  });

  const press = async (...keys: string[]): Promise<void> => {
    for (const key of keys) await tab.page.keyboard.press(key);
    await tab.settle();
  };
  const kinds = async (): Promise<string[]> => (await tab.state()).picture?.panes?.map(({ kind }) => kind) ?? [];
  const time = async (): Promise<number> => (await tab.state()).time;

  it("steps a frame, ten frames, to the ends and from key to key", async () => {
    await press(".", ".");
    assert.equal(await time(), 0.08);
    await press(",");
    assert.equal(await time(), 0.04);
    await press("Shift+>");
    assert.equal(await time(), 11 / 25);
    await press("Shift+<");
    assert.equal(await time(), 0.04);
    await press("End");
    assert.equal(await time(), 9);
    await press("Home");
    assert.equal(await time(), 0);
    await press("PageDown", "PageDown");
    assert.equal(await time(), 4.4);
    await press("PageUp");
    assert.equal(await time(), 2.4);
    const { frame, timecode } = await tab.state();
    assert.deepEqual([frame, timecode], [90_060, "01:00:02:10"]);
  });

  it("plays, loops and changes speed", async () => {
    await press("s", "s");
    assert.equal(await tab.page.locator(".transport select").inputValue(), "0.25");
    await press("Shift+S");
    assert.equal(await tab.page.locator(".transport select").inputValue(), "0.5");
    await press("l");
    assert.equal(await tab.page.locator("[aria-label=Loop]").getAttribute("aria-pressed"), "true");
    await press("Space");
    assert.equal((await tab.state()).playing, true);
    await press("Space");
    assert.equal((await tab.state()).playing, false);
  });

  it("turns, moves and zooms the view, shows the standard views and fits them", async () => {
    const stage = async (): Promise<
      NonNullable<NonNullable<Awaited<ReturnType<StageTab["state"]>>["picture"]>["stage"]>
    > => {
      const picture = (await tab.state()).picture;
      assert.ok(picture?.stage);
      return picture.stage;
    };
    const first = await stage();
    await tab.page.locator(".scene").focus();
    await press("ArrowRight");
    const turned = await stage();
    assert.notDeepEqual(turned.eye, first.eye);
    assert.deepEqual(turned.centre, first.centre);
    await press("Shift+ArrowUp");
    assert.notDeepEqual((await stage()).centre, first.centre);
    const away = (one: typeof first): number => Math.hypot(...one.eye.map((part, k) => part - one.centre[k]));
    await press("+");
    assert.ok(away(await stage()) < away(first) * 0.9);
    for (const [key, up] of [
      ["2", [0, 1, 0]],
      ["3", [0, 0, 1]],
      ["4", [0, 0, 1]],
    ] as const) {
      // prettier-ignore
      await press(key);
      const view = await stage();
      assert.equal(view.kind, "parallel");
      assert.ok(Math.hypot(...view.up.map((part, k) => part - up[k])) < 1e-9);
    }
    await press("-", "-");
    const wide = await stage();
    await press("f");
    assert.ok((await stage()).opening < wide.opening);
    await press("1");
    assert.equal((await stage()).kind, "perspective");
  });

  it("changes what is shown, opens the help and closes it", async () => {
    await press("v");
    assert.deepEqual(await kinds(), ["free", "lens", "top", "side"]);
    await press("v");
    assert.deepEqual(await kinds(), ["free"]);
    await press("5");
    assert.deepEqual(await kinds(), ["lens"]);
    await press("1", "v");
    assert.deepEqual(await kinds(), ["free", "lens"]);
    await press("?");
    assert.ok(await tab.page.locator("dialog[open]").isVisible());
    // Keys of the stage rest while the help is open.
    await press(".");
    assert.equal(await time(), 0);
    await press("Escape");
    assert.ok(!(await tab.page.locator("dialog[open]").isVisible()));
  });

  it("reveals the text of the key at the playhead", async () => {
    await press("PageDown", ".", "r");
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-key", key: 1 });
  });

  it("goes from tab to tab with arrows, and into their lists", async () => {
    await tab.page.locator("#tab-graphs").focus();
    await press("ArrowRight");
    assert.ok(await tab.page.locator("#panel-values").isVisible());
    await press("End");
    assert.ok(await tab.page.locator("#panel-findings").isVisible());
    await tab.page.locator("#panel-findings button").first().focus();
    await press("Enter");
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-finding", id: 0 });
    assert.equal(await time(), 3.2);
  });

  it("moves the slider by frames and the divider by steps", async () => {
    await tab.page.locator(".scrub input").focus();
    await press("ArrowRight", "ArrowRight", "ArrowRight");
    assert.equal(await time(), 0.12);
    const words = await tab.page.locator(".scrub input").getAttribute("aria-valuetext");
    assert.equal(words, "01:00:00:03, frame 90003");
    const divider = tab.page.locator(".divider");
    const before = Number(await divider.getAttribute("aria-valuenow"));
    await divider.focus();
    await press("ArrowUp");
    assert.equal(Number(await divider.getAttribute("aria-valuenow")), before + 3);
  });

  it("reaches every control in an order, each with a name", async () => {
    const seen: string[] = [];
    for (let i = 0; i < 60; i++) {
      await tab.page.keyboard.press("Tab");
      const name = await tab.page.evaluate(() => {
        const at = document.activeElement;
        if (at === null || at === document.body) return "";
        const labels = at instanceof HTMLInputElement ? [...(at.labels ?? [])].map((one) => one.textContent) : [];
        return at.getAttribute("aria-label") ?? (at.getAttribute("aria-labelledby") || at.textContent || labels.join());
      });
      if (name === "" && seen.length > 0) break;
      seen.push(name ?? "");
    }
    const expected = [
      "One",
      "Two",
      "Show",
      "Keys and help",
      "What view 1",
      "Fit view 1",
      "Stage, free",
      "What view 2",
      "Height of",
      "To the start",
      "Play",
    ];
    const places = [...expected, "Loop", "Playing speed", "Time", "Graphs", "All axes"].map((name) =>
      seen.findIndex((one) => one.startsWith(name)),
    );
    assert.ok(
      places.every((place, i) => place >= 0 && (i === 0 || place > places[i - 1])),
      `${places}: ${seen.join(" | ")}`,
    );
    assert.ok(
      seen.every((name) => name !== ""),
      seen.join(" | "),
    );
  });
});
