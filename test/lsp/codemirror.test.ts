import assert from "node:assert/strict";
import { spawn, type ChildProcessWithoutNullStreams } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { chromium, type Browser, type Page } from "playwright-core";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";
import { framed, frameReader } from "../support/frames.ts";
import { installProgram } from "../support/installed-program.ts";
import { MOVE, WORKSPACE } from "./documents.ts";

const PATH = "moves/along.move.yaml";

describe("movewright serve under CodeMirror's LSP client", () => {
  const folder = mkdtempSync(path.join(tmpdir(), "movewright-codemirror-"));
  const complaints: string[] = [];
  let server: ChildProcessWithoutNullStreams;
  let browser: Browser;
  let page: Page;

  before(async () => {
    for (const [name, text] of Object.entries(WORKSPACE)) {
      mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
      writeFileSync(path.join(folder, name), text);
    }
    const program = await installProgram(folder);
    server = spawn(process.execPath, [program, "serve", "--stdio"]);
    server.stderr.on("data", (data: Buffer) => complaints.push(data.toString()));
    browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
    page = await browser.newPage();
    page.on("pageerror", (error) => complaints.push(String(error)));
    page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
    await page.setContent("<!doctype html><body></body>");
    await page.exposeFunction("toServer", (message: string) => void server.stdin.write(framed(message)));
    // One after the other, as they came.
    let delivered: Promise<unknown> = Promise.resolve();
    const deliver = (text: string) => {
      delivered = delivered.then(() => page.evaluate((message) => window.fromServer(message), text));
    };
    server.stdout.on("data", frameReader(deliver));
    const entry = path.join(import.meta.dirname, "codemirror-page.ts");
    const { outputFiles } = await build({ entryPoints: [entry], bundle: true, format: "iife", write: false });
    await page.addScriptTag({ content: outputFiles[0].text });
    await page.evaluate(() => window.client.initializing);
    const uri = pathToFileURL(path.join(folder, PATH)).toString();
    await page.evaluate(([at, text]) => window.edit(at, text), [uri, MOVE]);
  });
  after(async () => {
    await browser?.close();
    server?.kill();
    rmSync(folder, { recursive: true, force: true });
  });

  const text = () => page.evaluate(() => window.editor.state.doc.toString());
  /** Selects what stands between the two `|` of a piece of the text, or puts the cursor at the one. */
  const select = async (marked: string) => {
    const [from, to] = marksOf(await text(), marked);
    await page.evaluate(
      ([anchor, head]) => {
        window.editor.dispatch({ selection: { anchor, head }, scrollIntoView: true });
        window.editor.focus();
      },
      [from, to],
    );
  };
  const type = async (marked: string, typed: string) => {
    await select(marked);
    await page.keyboard.type(typed);
  };

  it("underlines what is wrong, and stops when it is put right", async () => {
    await type("focus: |lid|", "lit");
    const underlined = page.locator(".cm-lintRange-error", { hasText: "lit" });
    await underlined.waitFor();
    await type("focus: |lit|", "lid");
    await underlined.waitFor({ state: "detached" });
  });

  it("underlines what the motion is too fast for, once it is solved", async () => {
    await type("at: |4| s", "1");
    const underlined = page.locator(".cm-lintRange-error");
    await underlined.first().waitFor();
    await type("at: |1| s", "4");
    await underlined.first().waitFor({ state: "detached" });
  });

  it("shows the solved axes of a key under the mouse", async () => {
    const [at] = marksOf(await text(), "name: ri|ght");
    const place = await page.evaluate((offset) => window.editor.coordsAtPos(offset), at);
    assert.ok(place);
    await page.mouse.move(place.left - 30, place.top + 5);
    await page.mouse.move(place.left + 1, place.top + 5, { steps: 4 });
    const tooltip = page.locator(".cm-tooltip-hover");
    await tooltip.waitFor();
    const said = await tooltip.innerText();
    for (const axis of ["slide", "pan", "tilt"]) assert.ok(said.includes(axis), said);
    await page.mouse.move(0, 0);
    await tooltip.waitFor({ state: "detached" });
  });

  it("offers the rig's axes, and takes the one that is chosen", async () => {
    await type("axes: { slide: 0.3, plate: 0| }", ", ");
    await page.keyboard.type("ti");
    const option = page.locator(".cm-tooltip-autocomplete li", { hasText: "tilt" });
    await option.waitFor();
    // CodeMirror takes no choice in the first moments of a list, so that none is taken by mistake.
    await page.waitForTimeout(200);
    await option.click();
    assert.match(await text(), /axes: \{ slide: 0\.3, plate: 0, tilt/);
    const [from, to] = marksOf(await text(), "plate: 0|, tilt");
    const end = (await text()).indexOf(" }", to);
    await page.evaluate((changes) => window.editor.dispatch({ changes }), { from, to: end });
    assert.equal(await text(), MOVE);
  });

  it("renames a key", async () => {
    await select("name: re|st");
    await page.keyboard.press("F2");
    await page.locator(".cm-lsp-rename-panel input").fill("still");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => window.editor.state.doc.toString().includes("name: still"));
    assert.equal(await text(), MOVE.replace("name: rest", "name: still"));
  });

  it("had nothing to complain about", () => assert.deepEqual(complaints, []));
});

/** Offsets of the marks `|` of `marked` where it stands in `text` without them; a single mark is start and end. */
function marksOf(text: string, marked: string): [number, number] {
  const [before, inside, behind] = marked.split("|");
  const plain = marked.replaceAll("|", "");
  const start = text.indexOf(plain);
  assert.ok(start >= 0, `${plain} is in the text`);
  const from = start + before.length;
  return [from, behind === undefined ? from : from + inside.length];
}
