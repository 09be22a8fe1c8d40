import assert from "node:assert/strict";
import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { buildAll } from "../../scripts/build.mjs";
import { prepareHost } from "../../scripts/editor-host/prepare.mjs";
import { hostAddress, serveHost } from "../../scripts/editor-host/serve.mjs";
import { beginMove, runCommand } from "./drive.ts";
import { serveExtensionFiles } from "./extension-files.ts";
import { withPage } from "./hosted-page.ts";
import { addWebExtension } from "./web-extension.ts";
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
        await addWebExtension(page, { port: host.port, authority: files.authority });
        await page.goto(hostAddress({ port: host.port, folder: demo.folder, file }));
        await page.locator(".monaco-editor .squiggly-error").first().waitFor();
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
  await beginMove(page);
  const input = page.locator(".quick-input-widget input.input:visible");
  await input.fill("web one");
  await page.keyboard.press("Enter");
  await page.locator('.tab[aria-label^="web one.move.yaml"]').first().waitFor();
  await page.locator(".view-line", { hasText: "title: web one" }).first().waitFor();
}

/** Copies the sample, whose files come over the network one by one, and sees what is wrong with it. */
async function openSample(page: Page): Promise<void> {
  await runCommand(page, "Movewright: Open Sample");
  await page.locator('.tab[aria-label^="past-the-teapot.move.yaml"]').first().waitFor();
  await page
    .locator(".statusbar-item", { hasText: /slide speed 17\d %, over the limit/ })
    .first()
    .waitFor();
}
