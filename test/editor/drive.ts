import assert from "node:assert/strict";
import { copyFileSync, mkdirSync, readFileSync } from "node:fs";
import path from "node:path";
import type { Frame, Locator, Page } from "playwright-core";
import { PNG } from "pngjs";
import { PATIENCE_MS } from "./hosted-page.ts";
import { root } from "./paths.ts";

/** Runs a command by the palette, by the beginning of its title. */
export async function runCommand(page: Page, title: string): Promise<void> {
  await page.keyboard.press("F1");
  await choose(page, title, ">");
}

/** Runs a command and takes an entry of the list that it offers, both by the beginning of their names. */
export async function pick(page: Page, command: string, entry: string): Promise<void> {
  await runCommand(page, command);
  await choose(page, entry);
}

/** Takes an entry of the list that is open, having typed its name. */
export async function choose(page: Page, entry: string, prefix = ""): Promise<void> {
  await page.locator(".quick-input-widget input.input:visible").fill(prefix + entry);
  await page.locator(`.quick-input-list .monaco-list-row[aria-label^="${entry}"]`).first().click();
}

/**
 * Begins a new move by the command, up to the question for its name. By the keyboard: the list of kinds comes in place of the
 * list of commands, and a click that is too early falls on a row of either.
 */
export async function beginMove(page: Page): Promise<void> {
  await runCommand(page, "Movewright: New Rig");
  const kind = (name: string): Locator => page.locator(`.quick-input-list .monaco-list-row[aria-label^="${name}"]`);
  await kind("Shoot").waitFor();
  await page.locator(".quick-input-widget input.input:visible").fill("Move");
  await kind("Shoot").waitFor({ state: "hidden" });
  await page.keyboard.press("Enter");
  await kind("Move").first().waitFor({ state: "hidden" });
}

/** Puts the cursor of the editor in front behind the first such words of a text. */
export async function goBehind(page: Page, text: string, words: string): Promise<void> {
  const at = text.indexOf(words);
  assert.ok(at >= 0, `"${words}" is not in the text`);
  const before = text.slice(0, at + words.length).split("\n");
  await page.keyboard.press("Control+g");
  await page
    .locator(".quick-input-widget input.input:visible")
    .fill(`:${before.length}:${(before.at(-1) ?? "").length + 1}`);
  await page.keyboard.press("Enter");
  await page.locator(".quick-input-widget").waitFor({ state: "hidden" });
}

/** Waits until something is so. */
export async function until(page: Page, what: string, holds: () => boolean | Promise<boolean>): Promise<void> {
  const end = Date.now() + PATIENCE_MS;
  while (!(await holds())) {
    if (Date.now() > end) throw new Error(`Waited ${PATIENCE_MS / 1000} s in vain for ${what}.`);
    await page.waitForTimeout(100);
  }
}

/** The list of a light bulb, asked for by the keyboard; it is asked for again until the server has something to offer. */
export async function quickFixes(page: Page): Promise<Locator> {
  const rows = page.locator(".action-widget .monaco-list-row.action");
  await until(page, "quick fixes", async () => {
    await page.keyboard.press("Control+.");
    await rows
      .first()
      .waitFor({ timeout: 15_000 })
      .catch(() => undefined);
    if ((await rows.count()) > 1) return true;
    await page.keyboard.press("Escape");
    return false;
  });
  return rows;
}

/** The stage's own page, which the editor keeps two frames deep. */
export async function stageFrame(page: Page): Promise<Frame> {
  const outer = await page.waitForSelector("iframe.webview");
  const inner = await (await outer.contentFrame())?.waitForSelector("#active-frame");
  const frame = await inner?.contentFrame();
  assert.ok(frame, "the stage has no page");
  return frame;
}

/** Drags the edge between two parts of the window: the given side of a part, by so many pixels. */
export async function drag(page: Page, part: string, side: "top" | "left", by: number): Promise<void> {
  const box = await page.locator(part).first().boundingBox();
  assert.ok(box, `${part} is not shown`);
  const from = side === "top" ? { x: box.x + box.width / 2, y: box.y } : { x: box.x, y: box.y + box.height / 2 };
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + (side === "left" ? by : 0), from.y + (side === "top" ? by : 0), { steps: 5 });
  await page.mouse.up();
}

/** Takes the window's picture into out/ for a person to look at, and holds it to be a picture of something. */
export async function photograph(page: Page, name: string): Promise<PNG> {
  await page.screenshot({ path: outFile(name) });
  const picture = PNG.sync.read(readFileSync(outFile(name)));
  assert.ok(coloursOf(picture) > 200, `${name} is nearly empty`);
  return picture;
}

/** The same for a picture that the README shows, which is taken anew when UPDATE_PICTURES=1 asks for it. */
export async function photographForReadme(page: Page, name: string): Promise<void> {
  const picture = await photograph(page, name);
  const shown = path.join(root, "docs", "pictures", name);
  if (process.env.UPDATE_PICTURES === "1") copyFileSync(outFile(name), shown);
  const { width, height } = PNG.sync.read(readFileSync(shown));
  assert.deepEqual([width, height], [picture.width, picture.height]);
}

/** A file of this name in the folder for what tests leave behind. */
export function outFile(name: string): string {
  const folder = path.join(root, "out");
  mkdirSync(folder, { recursive: true });
  return path.join(folder, name);
}

function coloursOf({ data }: PNG): number {
  const seen = new Set<number>();
  for (let i = 0; i < data.length; i += 4) seen.add((data[i] << 16) | (data[i + 1] << 8) | data[i + 2]);
  return seen.size;
}
