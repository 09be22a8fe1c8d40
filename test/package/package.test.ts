import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { prepareHost } from "../../scripts/editor-host/prepare.mjs";
import { hostAddress, installIntoHost, serveHost } from "../../scripts/editor-host/serve.mjs";
import { runCommand } from "../../scripts/run-command.mjs";
import { withPage } from "../editor/hosted-page.ts";
import { root } from "../editor/paths.ts";
import { copyDemo } from "../editor/workspace.ts";
import { zipNames } from "./zip-names.ts";

const MANIFEST = JSON.parse(readFileSync(path.join(root, "package.json"), "utf8"));
const SERVER = "dist/server/main-browser.js";
const VSIX = path.join(root, `${MANIFEST.name}-${MANIFEST.version}.vsix`);

describe("the package", function () {
  this.timeout(180_000);

  before(async () => {
    const { code, output } = await runCommand(process.execPath, [path.join(root, "scripts", "package.mjs")]);
    assert.equal(code, 0, output);
  });

  it("is smaller than 1.5 MB", () => {
    assert.ok(statSync(VSIX).size < 1_500_000, `${statSync(VSIX).size} bytes`);
  });

  it("holds the product and nothing else", () => {
    const names = zipNames(readFileSync(VSIX)).map((name) => name.replace(/^extension\//, ""));
    const shape =
      /^(\[Content_Types\]\.xml|extension\.vsixmanifest|package\.json|readme\.md|LICENSE\.txt|images\/icon\.png)$/;
    const folders = /^(dist|syntaxes|schemas|docs\/reference|media)\/[\w./-]+\.(cjs|js|css|json|md|yaml)$/;
    assert.deepEqual(
      names.filter((name) => !shape.test(name) && !folders.test(name)),
      [],
    );
    for (const needed of [MANIFEST.main, MANIFEST.browser, MANIFEST.bin.movewright, SERVER, "dist/webview/stage.css"]) {
      assert.ok(names.includes(needed.replace(/^\.\//, "")), `${needed} is missing`);
    }
  });

  it("installs into an editor and checks a document there", async () => {
    await prepareHost();
    const state = mkdtempSync(path.join(os.tmpdir(), "movewright-package-"));
    const demo = copyDemo();
    try {
      const installed = await installIntoHost(state, VSIX);
      assert.equal(installed.code, 0, installed.output);
      const host = await serveHost({ data: state });
      try {
        const file = path.join(demo.folder, "broken", "bad-number.camera.yaml");
        await withPage(async (page) => {
          await page.goto(hostAddress({ port: host.port, folder: demo.folder, file }));
          await page.locator(".monaco-editor .squiggly-error").first().waitFor({ timeout: 90_000 });
        });
      } finally {
        await host.stop();
      }
    } finally {
      demo.remove();
      rmSync(state, { recursive: true, force: true });
    }
  });
});
