import assert from "node:assert/strict";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import type { Frame, Page } from "playwright-core";
import { PNG } from "pngjs";
import { buildAll } from "../../scripts/build.mjs";
import { prepareHost } from "../../scripts/editor-host/prepare.mjs";
import { hostAddress, serveHost } from "../../scripts/editor-host/serve.mjs";
import { openPage } from "./hosted-page.ts";
import { root } from "./paths.ts";
import { copyDemo } from "./workspace.ts";

const MOVE = "moves/over-the-lid.move.yaml";
const PICTURE = path.join(root, "docs", "pictures", "editor.png");
const SETTINGS = {
  "editor.minimap.enabled": false,
  "editor.fontSize": 13,
  "breadcrumbs.enabled": false,
};
/** One editor for all tests here, driven as a person would drive it; each test goes on where the last one ended. */
describe("a whole editor", function () {
  this.timeout(120_000);

  const demo = copyDemo();
  const state = mkdtempSync(path.join(os.tmpdir(), "movewright-whole-"));
  let host: Awaited<ReturnType<typeof serveHost>>;
  let page: Page;
  let close: () => Promise<void>;

  before(async () => {
    await buildAll({ ifStale: true });
    await prepareHost();
    const file = path.join(demo.folder, MOVE);
    // The last leg is hurried, so that there is something to find.
    const text = readFileSync(file, "utf8");
    assert.ok(text.includes("at: 13 s"));
    writeFileSync(file, text.replace("at: 13 s", "at: 11.4 s"));
    host = await serveHost({ data: state, settings: SETTINGS });
    ({ page, close } = await openPage());
    await page.goto(hostAddress({ port: host.port, folder: demo.folder, extension: root, file }));
  });

  after(async () => {
    await close?.();
    await host?.stop();
    demo.remove();
    rmSync(state, { recursive: true, force: true });
  });

  afterEach(async function () {
    if (this.currentTest?.state === "failed") await page.screenshot({ path: outFile("whole-editor-failed.png") });
  });

  it("underlines the key that is too fast", async () => {
    await page.locator(".monaco-editor .squiggly-error").first().waitFor({ timeout: 60_000 });
  });

  it("lists the findings among the problems", async () => {
    await page.keyboard.press("Control+Shift+M");
    // The list draws only the rows in sight, and the broken documents of the whole folder come first.
    await filterProblems(page);
    const row = page.locator(".markers-panel .monaco-list-row", { hasText: /axis-(speed|accel)/ }).first();
    await row.waitFor({ timeout: 60_000 });
    assert.match(await row.innerText(), /deg\/s/);
  });

  it("explains a key on hover", async () => {
    await page
      .locator(".view-line span", { hasText: /^shoulder$/ })
      .last()
      .hover();
    const hover = page.locator(".monaco-hover:visible", { hasText: "tilt" });
    await hover.waitFor();
    assert.match(await hover.innerText(), /dolly[\s\S]*swing[\s\S]*lift[\s\S]*pan[\s\S]*tilt/);
    await page.mouse.move(2, 2);
    await hover.waitFor({ state: "hidden" });
  });

  it("opens the stage from the line above the move", async () => {
    await page.locator(".codelens-decoration a", { hasText: /stage/i }).first().click();
    const stage = await stageFrame(page);
    await stage.locator("canvas").first().waitFor();
    await stage.getByText("00:00:00:00").first().waitFor();
  });

  it("looks as the README shows it", async () => {
    // Picked by hand: on a busy machine the editor gives up waiting for the theme of its settings while it starts.
    await pick(page, "Preferences: Color Theme", "Dark Modern");
    await page.locator(".monaco-workbench.vs-dark").waitFor();
    await drag(page, ".part.panel", "top", 150);
    await drag(page, ".part.editor .split-view-view:nth-child(2)", "left", -70);
    await page
      .locator(".view-line span", { hasText: /^shoulder$/ })
      .last()
      .click();
    const stage = await stageFrame(page);
    await stage.getByText("00:00:06:00").first().waitFor();
    await page.mouse.move(2, 2);
    // The stage draws its views after the layout has settled.
    await page.waitForTimeout(2000);
    const picture = await photograph(page);
    assert.ok(coloursOf(picture) > 200, "the picture is nearly empty");
    const shown = PNG.sync.read(readFileSync(PICTURE));
    assert.deepEqual([shown.width, shown.height], [picture.width, picture.height]);
  });
});

/** Leaves the findings of the opened move among the problems. */
async function filterProblems(page: Page): Promise<void> {
  const filter = page.locator(".markers-panel-action-filter input, .viewpane-filter input").first();
  await filter.fill("over-the-lid.move.yaml");
}

/** The stage's own page, which the editor keeps two frames deep. */
async function stageFrame(page: Page): Promise<Frame> {
  const outer = await page.waitForSelector("iframe.webview");
  const inner = await (await outer.contentFrame())?.waitForSelector("#active-frame");
  const frame = await inner?.contentFrame();
  assert.ok(frame, "the stage has no page");
  return frame;
}

/** Runs a command and takes an entry of the list that it offers, both by name. */
async function pick(page: Page, command: string, entry: string): Promise<void> {
  await page.keyboard.press("F1");
  for (const [prefix, text] of [
    [">", command],
    ["", entry],
  ]) {
    await page.locator(".quick-input-widget input.input:visible").fill(prefix + text);
    await page.locator(`.quick-input-list .monaco-list-row[aria-label^="${text}"]`).first().click();
  }
}

/** Drags the edge between two parts of the window: the given side of a part, by so many pixels. */
async function drag(page: Page, part: string, side: "top" | "left", by: number): Promise<void> {
  const box = await page.locator(part).first().boundingBox();
  assert.ok(box, `${part} is not shown`);
  const from = side === "top" ? { x: box.x + box.width / 2, y: box.y } : { x: box.x, y: box.y + box.height / 2 };
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + (side === "left" ? by : 0), from.y + (side === "top" ? by : 0), { steps: 5 });
  await page.mouse.up();
}

/** Takes the window's picture into out/, and into the README when UPDATE_PICTURES=1 asks for it. */
async function photograph(page: Page): Promise<PNG> {
  const taken = outFile("editor.png");
  await page.screenshot({ path: taken });
  if (process.env.UPDATE_PICTURES === "1") {
    mkdirSync(path.dirname(PICTURE), { recursive: true });
    copyFileSync(taken, PICTURE);
  }
  return PNG.sync.read(readFileSync(taken));
}

/** A file of this name in the folder for what tests leave behind. */
function outFile(name: string): string {
  const folder = path.join(root, "out");
  mkdirSync(folder, { recursive: true });
  return path.join(folder, name);
}

function coloursOf({ data }: PNG): number {
  const seen = new Set<number>();
  for (let i = 0; i < data.length; i += 4) seen.add((data[i] << 16) | (data[i + 1] << 8) | data[i + 2]);
  return seen.size;
}
