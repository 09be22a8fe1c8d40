import assert from "node:assert/strict";
import { KIT } from "../fixtures/kit.ts";
import { solvedOfText } from "../support/shaped.ts";
import { linkStage, type LinkedStage } from "./shape-link.ts";
import { startStageHost, type StageHost, type StageTab } from "./stage-host.ts";

const MOVE = "m.move.yaml";
const SET = "table.set.yaml";
/** Comments, columns and units that a drag must leave as they are. */
const TEXT = `move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
keys: # by hand
  - { at: 0 s,  name: first, axes: { swing: -14, lift: 6, tube: 0.10 }, aim: { at: lid, framing: [0.5, 0.50] } } # left
  - { at: 4 s,  name: middle, camera: { at: [1.25, 0.10, 1.3] } } # over
  - { at: 8 s,  name: last, axes: { swing: 10, lift: 4, tube: 0 mm } }
`;
const FILES = {
  [MOVE]: TEXT,
  ...Object.fromEntries(Object.entries(KIT).filter(([name]) => !name.startsWith("slider"))),
};

describe("shaping a move by hand on the stage", () => {
  let host: StageHost;
  let tab: StageTab;
  let link: LinkedStage;

  before(async () => {
    host = await startStageHost();
  });
  after(() => host.close());
  const open = async (panes: readonly string[], size: { width?: number; height?: number } = {}): Promise<void> => {
    tab = await host.open({ width: 1100, height: 800, ...size, kept: { panes } });
    link = await linkStage(tab, FILES);
    await tab.until((state) => state.keys === 3);
  };
  afterEach(async () => {
    link.stop();
    assert.deepEqual(tab.complaints, []);
    await tab.close();
  });

  /** Goes to a key, so that its grips are there. */
  const choose = async (...presses: string[]): Promise<void> => {
    for (const key of presses) await tab.page.keyboard.press(key);
    await tab.settle();
  };
  const middleOf = async (selector: string): Promise<{ x: number; y: number }> => {
    const box = await tab.page.locator(selector).first().boundingBox();
    assert.ok(box, `${selector} is not there`);
    return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  };
  const drag = async (from: { x: number; y: number }, by: readonly [number, number], steps = 8): Promise<void> => {
    const { mouse } = tab.page;
    await mouse.move(from.x, from.y);
    await mouse.down();
    for (let i = 1; i <= steps; i++) await mouse.move(from.x + (by[0] * i) / steps, from.y + (by[1] * i) / steps);
  };
  const drop = async (): Promise<void> => {
    const before = link.edits.length;
    await tab.page.mouse.up();
    await written(before);
  };
  const written = async (before: number): Promise<void> => {
    await tab.until(() => before < link.edits.length);
    const version = link.server.version(MOVE);
    await tab.until((state) => state.version === version || link.edits[before].path !== MOVE);
    await tab.settle();
  };
  const numbersIn = (text: string, pattern: RegExp): number[] => {
    const match = pattern.exec(text);
    assert.ok(match, text);
    return match.slice(1).map(Number);
  };

  it("drags a key in time along the strip, one edit on release", async () => {
    await open(["free"]);
    const box = (await tab.page.locator(".scrub canvas").boundingBox())!;
    // 8 s over the width of the strip: the second key is at its middle, and a second is an eighth of it.
    await drag({ x: box.x + box.width / 2, y: box.y + box.height - 5 }, [box.width / 8, 0]);
    await tab.until((state) => Math.abs(state.time - 5) < 0.03);
    assert.equal(link.text(), TEXT, "nothing is written while somebody drags");
    assert.match((await tab.page.locator(".shape-words").textContent()) ?? "", /middle comes at 5 s/);
    await drop();
    assert.equal(link.text(), TEXT.replace("at: 4 s,", "at: 5 s,"));
    assert.deepEqual(link.edits, [{ path: MOVE, count: 1 }]);
    assert.ok(Math.abs((await tab.state()).time - 5) < 0.03);
    // A click without a drag still goes to the key, and writes nothing.
    await tab.page.mouse.click(box.x + box.width - 5, box.y + box.height - 5);
    await tab.settle();
    assert.equal((await tab.state()).time, 8);
    assert.equal(link.edits.length, 1);
  });

  it("puts a key back with Escape, and stops it beside its neighbour", async () => {
    await open(["free"]);
    const box = (await tab.page.locator(".scrub canvas").boundingBox())!;
    await drag({ x: box.x + box.width / 2, y: box.y + box.height - 5 }, [-box.width, 0]);
    await tab.until((state) => Math.abs(state.time - 0.04) < 1e-6);
    assert.match(
      (await tab.page.locator(".shape-words").textContent()) ?? "",
      /middle comes behind first, which is at 0 s/i,
    );
    await tab.page.keyboard.press("Escape");
    await tab.page.mouse.up();
    await tab.settle();
    assert.equal(link.edits.length, 0);
    assert.equal(link.text(), TEXT);
  });

  it("drags a camera in the plane of a view, and along an axis", async () => {
    await open(["top"]);
    await choose("PageDown");
    const state = await tab.state();
    const look = state.picture!.panes![0].stage!;
    const metres = look.opening / look.rectangle[3];
    const grip = await middleOf(".grip[data-what=camera] .grip-knob");
    const arms = tab.page.locator(".grip[data-what=camera] .grip-arm[data-axis=x]");
    assert.equal(await arms.isVisible(), false, "arms lie over what is drawn");
    // Seen from above, right is x and up is y: the span of the view is its height.
    await drag(grip, [-0.1 / metres, -0.05 / metres]);
    await drop();
    const [x, y, z] = numbersIn(link.text(), /at: \[([\d.-]+), ([\d.-]+), ([\d.-]+)\] \} \} # over/);
    assert.ok(Math.abs(x - 1.15) < 2 * metres && Math.abs(y - 0.15) < 2 * metres, `${x}, ${y}`);
    assert.equal(z, 1.3);
    assert.equal(link.text().replace(/\[[\d., -]+\] \} \} # over/, "[1.25, 0.10, 1.3] } } # over"), TEXT);
    await tab.page.focus(".grip[data-what=camera] .grip-knob");
    await arms.waitFor({ state: "visible" });
    const arm = await middleOf(".grip[data-what=camera] .grip-arm[data-axis=x]");
    await drag(arm, [0.08 / metres, 0.06 / metres]);
    await drop();
    const [x2, y2] = numbersIn(link.text(), /at: \[([\d.-]+), ([\d.-]+), 1\.3\] \} \} # over/);
    assert.ok(Math.abs(x2 - x - 0.08) < 2 * metres, `${x2}`);
    assert.equal(y2, y);
  });

  it("shows where a camera stops and why, and writes the nearest place", async () => {
    await open(["top"]);
    await choose("PageDown");
    await tab.page.locator(".scene").first().focus();
    await choose(...Array.from({ length: 9 }, () => "-"));
    const look = (await tab.state()).picture!.panes![0].stage!;
    const metres = look.opening / look.rectangle[3];
    const grip = await middleOf(".grip[data-what=camera] .grip-knob");
    await drag(grip, [0.1 / metres, 2.1 / metres], 12);
    await tab.until(() => link.answers.some((answer) => "preview" in answer && answer.preview.stop));
    await tab.settle();
    const words = tab.page.locator(".grip-words");
    assert.match((await words.textContent()) ?? "", /tube is at the end of its range: .* are left\.$/);
    if (process.env.MOVEWRIGHT_LOOK) await tab.page.screenshot({ path: process.env.MOVEWRIGHT_LOOK });
    assert.ok(await tab.page.locator(".grip-miss").first().isVisible());
    await drop();
    const solved = solvedOfText(link.text(), MOVE);
    assert.equal(solved.trajectory.keys[1].status, "converged");
  });

  it("drags the target into its set, whose comments stay", async () => {
    await open(["side"]);
    await choose("PageDown");
    const look = (await tab.state()).picture!.panes![0].stage!;
    const metres = look.opening / look.rectangle[3];
    await drag(await middleOf(".grip[data-what=target] .grip-knob"), [0.1 / metres, -0.1 / metres]);
    await drop();
    assert.equal(link.text(), TEXT);
    const [x, y, z] = numbersIn(link.text(SET), /lid: \{ at: \[([\d.-]+), ([\d.-]+), ([\d.-]+)\] \}/);
    assert.ok(Math.abs(x - 2.1) < 2 * metres && y === 0 && Math.abs(z - 1.2) < 2 * metres, `${x}, ${y}, ${z}`);
  });

  it("drags the subject in the view through the lens", async () => {
    await open(["lens"]);
    await choose("End", "Home", "PageDown", "PageUp");
    const lens = (await tab.state()).picture!.panes![0].lens!;
    const [, , width, height] = lens.rectangle;
    await drag(await middleOf(".grip[data-what=subject] .grip-knob"), [-0.1 * width, 0.12 * height]);
    await drop();
    const [across, down] = numbersIn(link.text(), /framing: \[([\d.]+), ([\d.]+)\] \} \} # left/);
    assert.ok(Math.abs(across - 0.4) < 2 / width && Math.abs(down - 0.62) < 2 / height, `${across}, ${down}`);
    assert.equal(link.text().replace(/framing: \[[^\]]+\]/, "framing: [0.5, 0.50]"), TEXT);
    const seen = (await tab.state()).picture!.panes![0].lens!.targets[0]!;
    assert.ok(Math.abs(seen[0] - across * width) < 0.5 && Math.abs(seen[1] - down * height) < 0.5);
  });

  it("does all of it by keyboard", async () => {
    await open(["top"]);
    await choose("PageDown");
    let before = link.edits.length;
    await tab.page.keyboard.press("Alt+ArrowRight");
    await written(before);
    assert.equal(link.text(), TEXT.replace("at: 4 s,", "at: 4.04 s,"));
    before = link.edits.length;
    await tab.page.locator(".grip[data-what=camera] .grip-knob").focus();
    await tab.page.keyboard.press("ArrowUp");
    await written(before);
    assert.match(link.text(), /at: \[1\.25, 0\.11, 1\.3\]/);
    assert.ok(
      await tab.page.locator(".grip[data-what=camera] .grip-knob").evaluate((knob) => knob === document.activeElement),
    );
    before = link.edits.length;
    await tab.page.keyboard.press("Shift+PageUp");
    await written(before);
    assert.match(link.text(), /at: \[1\.25, 0\.11, 1\.2\]/);
    // With the grip in hand the same key would pull it nearer.
    await tab.page.locator(".scene").first().focus();
    await choose("PageDown");
    await tab.page.getByRole("tab", { name: "Values" }).click();
    before = link.edits.length;
    await tab.page.locator("button.nudge", { hasText: "tube" }).focus();
    await tab.page.keyboard.down("ArrowUp");
    await tab.page.keyboard.down("ArrowUp");
    await tab.page.keyboard.up("ArrowUp");
    await written(before);
    assert.match(link.text(), /name: last, axes: \{ swing: 10, lift: 4, tube: 2 mm \}/);
    assert.equal(link.edits.length, before + 1);
    await tab.page.getByRole("button", { name: "swing down at the chosen key" }).click();
    await written(before + 1);
    assert.match(link.text(), /swing: 9\.9, lift: 4, tube: 2 mm/);
    // What listens to the page hears it.
    await tab.page.waitForFunction(() =>
      document.querySelector(".unseen[role=status]")?.textContent?.includes("swing"),
    );
  });

  it("shapes nothing while the text is broken, and says so", async () => {
    await open(["top"]);
    await choose("PageDown");
    assert.ok(await tab.page.locator(".grip[data-what=camera] .grip-knob").isVisible());
    await link.type(TEXT.replace("keys: # by hand", "keys: ["));
    assert.ok(!(await tab.page.locator(".grip[data-what=camera] .grip-knob").isVisible()));
    await tab.page.keyboard.press("Alt+ArrowRight");
    assert.match((await tab.page.locator(".shape-words").textContent()) ?? "", /can't be solved as it stands/);
    assert.equal(link.edits.length, 0);
  });
});
