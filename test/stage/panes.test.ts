import assert from "node:assert/strict";
import type { StagePane, StageTake } from "../../protocol/stage.ts";
import { complaintsOf } from "./axe.ts";
import { stageCamera } from "./independent.ts";
import { topToFront } from "./moves.ts";
import { coloursIn, photograph } from "./screen.ts";
import type { StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import { Vector3 } from "three";
import { useStageHost } from "./use-stage-host.ts";

describe("views side by side", () => {
  const host = useStageHost();
  let tab: StageTab;
  let take: StageTake;
  before(() => {
    take = takeOf(topToFront);
  });

  const panes = async (): Promise<readonly StagePane[]> => (await tab.state()).picture?.panes ?? [];
  const kinds = async (): Promise<string[]> => (await panes()).map(({ kind }) => kind);
  const boxOf = (pane: StagePane): readonly number[] => (pane.stage ?? pane.lens)?.rectangle ?? [];
  const open = (more: object = {}): Promise<StageTab> =>
    host.open({ answer: { take }, width: 800, height: 640, ...more });

  it("show one scene from as many sides, each where its own camera has it", async () => {
    tab = await open({ kept: { panes: ["free", "top", "side", "front"] } });
    const screen = await photograph(tab.page);
    const { links } = await tab.state();
    const all = await panes();
    assert.deepEqual(
      all.map(({ kind }) => kind),
      ["free", "top", "side", "front"],
    );
    for (const pane of all) {
      const stage = pane.stage;
      assert.ok(stage, pane.kind);
      assert.ok(coloursIn(screen, stage.rectangle) > 40, `${pane.kind} is empty`);
      // three's own camera, set up from the reported viewpoint, puts every link where the pane has it.
      const [, , width, height] = stage.rectangle;
      const camera = stageCamera(stage);
      for (let link = 0; link < links.length / 3; link++) {
        const at = new Vector3(...links.slice(3 * link, 3 * link + 3)).project(camera);
        const [x, y] = [((at.x + 1) / 2) * width, ((1 - at.y) / 2) * height];
        const away = Math.hypot(x - stage.links[2 * link], y - stage.links[2 * link + 1]);
        assert.ok(away < 0.6, `${pane.kind}: link ${link} is ${away} px off`);
      }
    }
    // They share the room and don't lie on one another.
    const boxes = all.map(boxOf);
    assert.ok(boxes[1][0] >= boxes[0][0] + boxes[0][2] && boxes[2][1] >= boxes[0][1] + boxes[0][3]);
  });

  it("are looked around in one at a time, and keep their viewpoints", async () => {
    tab = await open({ kept: { panes: ["free", "free"] } });
    const before = await panes();
    assert.deepEqual(before[1].stage?.eye, before[0].stage?.eye);
    const [left, top, width, height] = boxOf(before[1]);
    await tab.page.mouse.move(left + width / 2, top + height / 2);
    await tab.page.mouse.down();
    await tab.page.mouse.move(left + width / 2 + 50, top + height / 2, { steps: 3 });
    await tab.page.mouse.up();
    await tab.settle();
    const turned = await panes();
    assert.deepEqual(turned[0].stage?.eye, before[0].stage?.eye);
    assert.notDeepEqual(turned[1].stage?.eye, before[1].stage?.eye);
    assert.deepEqual(
      turned.map(({ active }) => active),
      [false, true],
    );
    // Fewer views keep the active one; more bring the others back as they were.
    await tab.page.click(".choice button:has-text('One')");
    await tab.settle();
    const eyes = (list: readonly StagePane[]): unknown[] => list.map((pane) => pane.stage?.eye);
    assert.deepEqual(eyes(await panes()).length, 1);
    await tab.page.click(".choice button:has-text('Two')");
    await tab.settle();
    const direction = (pane: StagePane): number[] =>
      (pane.stage?.right ?? []).map((part) => Math.round(part * 1e6) / 1e6);
    assert.deepEqual(new Set((await panes()).map((pane) => direction(pane).join())), new Set(turned.map((pane) => direction(pane).join()))); // prettier-ignore
    // Kept through a restart of the page.
    await tab.page.waitForTimeout(400);
    const [now, kept] = [await panes(), await tab.kept()];
    await tab.close();
    tab = await open({ kept });
    assert.deepEqual(eyes(await panes()), eyes(now));
  });

  it("change what they show by their header and by the keys 1 to 5, and lead from any to a key's text", async () => {
    tab = await open();
    await tab.page.selectOption("[aria-label='What view 2 shows']", "top");
    await tab.settle();
    assert.deepEqual(await kinds(), ["free", "top"]);
    const second = (await panes())[1];
    const [left, top] = boxOf(second);
    const [x, y] = second.stage?.keys.slice(4, 6) ?? [];
    await tab.page.mouse.click(left + x, top + y);
    assert.deepEqual((await tab.messages()).at(-1), { type: "reveal-key", key: 2 });
    // The view that was used last is the one that keys are meant for.
    for (const [key, kind] of [
      ["3", "side"],
      ["5", "lens"],
      ["4", "front"],
    ] as const) {
      await tab.page.keyboard.press(key);
      await tab.settle();
      assert.deepEqual(await kinds(), ["free", kind]);
    }
    // The legend stands once, and moves when its view shows something else.
    assert.equal(await tab.page.locator(".legend").count(), 1);
    await tab.page.focus("[aria-label='What view 1 shows']");
    await tab.page.keyboard.press("5");
    await tab.settle();
    assert.deepEqual(await kinds(), ["lens", "front"]);
    assert.ok(await tab.page.locator(".pane[data-kind=front] .legend").isVisible());
  });

  it("stand one above the other in a narrow panel, and alone in a small one", async () => {
    tab = await open({ width: 420, height: 760 });
    const [first, second] = (await panes()).map(boxOf);
    assert.ok(second[1] >= first[1] + first[3] && first[2] > 400);
    await tab.page.keyboard.press("v");
    await tab.settle();
    const four = (await panes()).map(boxOf);
    assert.equal(four.length, 4);
    assert.ok(four[1][0] > four[0][0] && four[2][1] > four[0][1]);
    await tab.page.setViewportSize({ width: 250, height: 420 });
    await tab.settle();
    const alone = await panes();
    assert.deepEqual(
      alone.map(({ kind, active }) => [kind, active]),
      [["free", true]],
    );
    const overflow = await tab.page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    assert.equal(overflow, 0);
  });

  it("turn, move and zoom under fingers", async () => {
    tab = await open({ kept: { panes: ["free"] } });
    const [pane] = await panes();
    const [left, top, width, height] = boxOf(pane);
    const [x, y] = [left + width / 2, top + height / 2];
    const session = await tab.page.context().newCDPSession(tab.page);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", ...points: [number, number][]): Promise<unknown> =>
      session.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([px, py], id) => ({ x: px, y: py, id })) }); // prettier-ignore
    await touch("touchStart", [x, y]);
    for (const step of [20, 40, 60]) await touch("touchMove", [x + step, y]);
    await touch("touchEnd");
    await tab.settle();
    const turned = (await panes())[0].stage;
    assert.ok(turned && pane.stage);
    assert.notDeepEqual(turned.right, pane.stage.right);
    assert.deepEqual(turned.centre, pane.stage.centre);
    // A drag of a third finger's width is no click: no key is revealed.
    assert.deepEqual(await tab.messages(), [{ type: "ready" }]);
    await touch("touchStart", [x - 40, y], [x + 40, y]);
    for (const step of [10, 25, 40]) await touch("touchMove", [x - 40 - step, y], [x + 40 + step, y]);
    await touch("touchEnd");
    await tab.settle();
    const near = (await panes())[0].stage;
    assert.ok(near);
    const away = (one: typeof near): number => Math.hypot(...one.eye.map((part, k) => part - one.centre[k]));
    // Fingers twice as far apart show half as much.
    assert.ok(Math.abs(away(near) / away(turned) - 0.5) < 0.02, `${away(near) / away(turned)}`);
  });

  for (const theme of ["dark", "light", "high-contrast", "high-contrast-light"] as const) {
    it(`are accessible to axe in the ${theme} theme: four views, their menus open, a narrow panel`, async () => {
      tab = await open({ theme, kept: { panes: ["free", "lens", "top", "side"] } });
      const found = await complaintsOf(tab.page, "four");
      for (const name of ["Show", "Save"]) {
        await tab.page.click(`.menu summary:has-text('${name}')`);
        found.push(...(await complaintsOf(tab.page, name)));
        await tab.page.keyboard.press("Escape");
      }
      await tab.page.setViewportSize({ width: 360, height: 640 });
      await tab.settle();
      found.push(...(await complaintsOf(tab.page, "narrow")));
      assert.deepEqual(found, []);
    });
  }

  it("open and leave the menu of overlays by keys, and keep what is chosen there", async () => {
    tab = await open();
    await tab.page.locator(".menu summary", { hasText: "Show" }).focus();
    await tab.page.keyboard.press("Enter");
    const boxes = tab.page.locator(".menu[open] input");
    await tab.page.keyboard.press("ArrowDown");
    assert.ok(await boxes.first().evaluate((one) => one === document.activeElement));
    const usable = await boxes.evaluateAll((all) => all.map((one) => one.getAttribute("aria-disabled") !== "true"));
    const index = usable.indexOf(true);
    assert.ok(index >= 0, "an overlay can be chosen for this move");
    // One that rests says why, and stays as it is.
    const resting = usable.indexOf(false);
    if (resting >= 0) {
      const before = await boxes.nth(resting).isChecked();
      await boxes.nth(resting).focus();
      await tab.page.keyboard.press("Space");
      assert.equal(await boxes.nth(resting).isChecked(), before);
      const described = (await boxes.nth(resting).getAttribute("aria-describedby")) ?? "";
      assert.notEqual(await tab.page.locator(`#${described}`).textContent(), "");
    }
    const before = await boxes.nth(index).isChecked();
    await boxes.nth(index).focus();
    await tab.page.keyboard.press("Space");
    assert.equal(await boxes.nth(index).isChecked(), !before);
    await tab.page.keyboard.press("Escape");
    assert.equal(await tab.page.locator(".menu[open]").count(), 0);
    assert.ok(await tab.page.locator(".menu summary", { hasText: "Show" }).evaluate((one) => one === document.activeElement)); // prettier-ignore
    await tab.page.waitForTimeout(400);
    const kept = await tab.kept();
    await tab.close();
    tab = await open({ kept });
    assert.equal(await tab.page.locator(".menu-list input").nth(index).isChecked(), !before);
  });
});
