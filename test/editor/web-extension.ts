import assert from "node:assert/strict";
import type { Page } from "playwright-core";

/**
 * Makes the editor's page load the extension as a web extension, by adding it to the options that the page carries.
 *
 * @param authority Host and port that serve the extension's files.
 * @param tests A module whose `run()` its extension host calls, by its path from the project's root.
 */
export async function addWebExtension(
  page: Page,
  { port, authority, tests }: { readonly port: number; readonly authority: string; readonly tests?: string },
): Promise<void> {
  const element = /(id="vscode-workbench-web-configuration" data-settings=")([^"]*)"/;
  const at = (file: string) => ({ scheme: "http", authority, path: `/${file}` });
  await page.route(`http://127.0.0.1:${port}/?*`, async (route) => {
    const html = await (await route.fetch()).text();
    const body = html.replace(element, (_all, head: string, escaped: string) => {
      const options = JSON.parse(escaped.replaceAll("&quot;", '"').replaceAll("&amp;", "&"));
      options.developmentOptions.extensions = [at("")];
      if (tests !== undefined) options.developmentOptions.extensionTestsPath = at(tests);
      return `${head}${JSON.stringify(options).replaceAll("&", "&amp;").replaceAll('"', "&quot;")}"`;
    });
    assert.notEqual(body, html, "the editor's page carries its options in another way");
    // Without the page's own policy, which allows connections to its own server alone.
    await route.fulfill({ status: 200, contentType: "text/html", body });
  });
}
