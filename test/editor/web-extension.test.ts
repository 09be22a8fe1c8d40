import assert from "node:assert/strict";
import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { buildAll } from "../../scripts/build.mjs";
import { prepareHost } from "../../scripts/editor-host/prepare.mjs";
import { hostAddress, serveHost } from "../../scripts/editor-host/serve.mjs";
import { serveExtensionFiles } from "./extension-files.ts";
import { withPage } from "./hosted-page.ts";
import { copyDemo } from "./workspace.ts";

const BROKEN = "broken/bad-number.camera.yaml";

describe("an editor that is a web page", function () {
  this.timeout(300_000);

  it("loads the browser entry, whose server is a web worker, and shows findings", async () => {
    await buildAll({ ifStale: true });
    await prepareHost();
    const state = mkdtempSync(path.join(os.tmpdir(), "movewright-web-"));
    const demo = copyDemo();
    const files = await serveExtensionFiles();
    const host = await serveHost({ data: state });
    try {
      await withPage(async (page) => {
        const file = path.join(demo.folder, BROKEN);
        await addWebExtension(page, `http://127.0.0.1:${host.port}`, files.authority);
        await page.goto(hostAddress({ port: host.port, folder: demo.folder, file }));
        await page.locator(".monaco-editor .squiggly-error").first().waitFor({ timeout: 120_000 });
        await page.keyboard.press("Control+Shift+M");
        const row = page.locator(".markers-panel .monaco-list-row", { hasText: "-35 mm" }).first();
        await row.waitFor();
        assert.match(await row.innerText(), /bad-number/);
        await newMove(page);
        await openSample(page);
      });
    } finally {
      await host.stop();
      files.close();
      demo.remove();
      rmSync(state, { recursive: true, force: true });
    }
  });
});

/** Begins a move from a template, as a person does: by the palette, the list of kinds and a name. */
async function newMove(page: Page): Promise<void> {
  await runCommand(page, "Movewright: New Rig");
  const input = page.locator(".quick-input-widget input.input:visible");
  await page.locator('.quick-input-list .monaco-list-row[aria-label^="Move"]').first().click();
  await input.fill("web one");
  await page.keyboard.press("Enter");
  await page.locator('.tab[aria-label^="web one.move.yaml"]').first().waitFor({ timeout: 60_000 });
  await page.locator(".view-line", { hasText: "title: web one" }).first().waitFor();
}

/** Copies the sample, whose files come over the network one by one, and sees what is wrong with it. */
async function openSample(page: Page): Promise<void> {
  await runCommand(page, "Movewright: Open Sample");
  await page.locator('.tab[aria-label^="past-the-teapot.move.yaml"]').first().waitFor({ timeout: 60_000 });
  await page
    .locator(".statusbar-item", { hasText: /slide speed 17\d %, over the limit/ })
    .first()
    .waitFor();
}

async function runCommand(page: Page, title: string): Promise<void> {
  await page.keyboard.press("F1");
  await page.locator(".quick-input-widget input.input:visible").fill(`>${title}`);
  await page.locator(`.quick-input-list .monaco-list-row[aria-label^="${title}"]`).first().click();
}

/** Makes the editor's page load a web extension, by adding it to the options that the page carries. */
async function addWebExtension(page: Page, origin: string, authority: string): Promise<void> {
  const element = /(id="vscode-workbench-web-configuration" data-settings=")([^"]*)"/;
  await page.route(`${origin}/?*`, async (route) => {
    const html = await (await route.fetch()).text();
    const body = html.replace(element, (_all, head: string, escaped: string) => {
      const options = JSON.parse(escaped.replaceAll("&quot;", '"').replaceAll("&amp;", "&"));
      options.developmentOptions.extensions = [{ scheme: "http", authority, path: "/" }];
      return `${head}${JSON.stringify(options).replaceAll("&", "&amp;").replaceAll('"', "&quot;")}"`;
    });
    assert.notEqual(body, html, "the editor's page carries its options in another way");
    // Without the page's own policy, which allows connections to its own server alone.
    await route.fulfill({ status: 200, contentType: "text/html", body });
  });
}
