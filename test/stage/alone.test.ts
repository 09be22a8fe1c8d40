import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { PNG } from "pngjs";
import { startAloneHost, type AloneHost, type AloneTab, type MadePage } from "./alone-host.ts";
import { complaintsOf } from "./axe.ts";
import { boxTriangles, objText } from "./mesh-files.ts";

/** A slide that is too fast between two keys, in a text that holds what would be markup in a page. */
const FAST = `move: 1
title: "Past <the> lid | </script><script>window.hit = 1</script>"
rig: kit/slider.rig.yaml
camera: { use: kit/a.camera.yaml, lens: wide }
set: kit/table.set.yaml
rate: 25 # </script><img src=x onerror="window.hit = 1"> & « é »
start: "01:00:00:00"
keys:
  - at: 0 s
    name: top
    axes: { slide: -0.4, plate: 0 }
    aim: { at: lid, framing: [0.5, 0.45] }
    focus: lid
  - at: 1 s
    name: "end <b>"
    axes: { slide: 0.4 }
`;

const shownLines = (tab: AloneTab): Promise<string[]> =>
  tab.page.$$eval(".text-lines li code", (all) => all.map((one) => one.textContent));
const marked = (tab: AloneTab): Promise<string> =>
  tab.page.$$eval(".text-lines mark", (all) => all.map((one) => one.textContent).join("\n"));

describe("a page that stands alone", function () {
  this.timeout(60_000);
  let host: AloneHost;
  let fast: MadePage;
  /** Of that page, for the tests that need no picture. */
  let tab: AloneTab;
  before(async () => {
    host = await startAloneHost();
    fast = await host.make({ "fast.move.yaml": FAST });
    tab = await host.open(fast.path);
    await tab.state();
  });
  after(() => host.close());

  it("opens from the disk without any network, draws and plays", async () => {
    const tab = await host.open(fast.path, { webgl: true });
    const state = await tab.until(({ pictures, webgl }) => webgl && pictures > 0);
    assert.equal(state.keys, 2);
    assert.equal(state.findings, fast.data.findings.length);
    assert.equal(state.timecode, "01:00:00:00");
    await tab.page.keyboard.press(".");
    const next = await tab.until(({ frame }) => frame === state.frame + 1);
    assert.equal(next.time, 0.04);
    // The slide is the first link and goes along y: where it is keyed to be, after the packing too.
    assert.ok(Math.abs(state.links[1] + 0.4) < 1e-6, `${state.links[1]}`);
    await tab.page.keyboard.press("End");
    const end = await tab.until(({ time }) => time === 1);
    assert.ok(Math.abs(end.links[1] - 0.4) < 1e-6, `${end.links[1]}`);
    await tab.page.keyboard.press(" ");
    await tab.until(({ time, playing }) => time < 1 && (time > 0.3 || playing));
    await tab.page.getByRole("contentinfo").getByText("Made by Movewright 1.2.3 from fast.move.yaml.").waitFor();
    await tab.page.getByRole("contentinfo").getByText("does not say that the move is safe").waitFor();
    assert.deepEqual(tab.complaints, []);
    await tab.close();
  });

  it("gives a picture of the view to the browser as a download", async () => {
    const tab = await host.open(fast.path, { webgl: true, viewport: { width: 700, height: 560 } });
    await tab.until(({ pictures, webgl }) => webgl && pictures > 0);
    await tab.page.click(".menu summary:has-text('Save')");
    const [download] = await Promise.all([
      tab.page.waitForEvent("download"),
      tab.page.click(".menu-list button:has-text('Picture of this view')"),
    ]);
    assert.equal(download.suggestedFilename(), "Past -the- lid - -script-script-window.hit = 1-script- 01-00-00-00 free.png"); // prettier-ignore
    const bytes = readFileSync(await download.path());
    const { width } = PNG.sync.read(bytes);
    assert.equal(width, Math.round((await tab.state()).picture?.stage?.rectangle[2] ?? 0));
    assert.deepEqual(tab.complaints, []);
    await tab.close();
  });

  it("lets nothing run but itself, and goes nowhere", async () => {
    const tab = await host.open(fast.path);
    await tab.state();
    const outcome = await tab.page.evaluate(async () => {
      const script = document.createElement("script");
      script.textContent = "window.hit = 2";
      document.body.append(script);
      const image = new Image();
      const loaded = new Promise<string>((resolve) => {
        image.onload = () => resolve("loaded");
        image.onerror = () => resolve("refused");
      });
      image.src = "data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=";
      const fetched = await fetch("data:text/plain,hello").then(
        () => "fetched",
        () => "refused",
      );
      return { hit: (window as { hit?: number }).hit, image: await loaded, fetched };
    });
    assert.deepEqual(outcome, { hit: undefined, image: "refused", fetched: "refused" });
    await tab.close();
  });

  it("shows titles and texts as they are written, whatever they hold", async () => {
    const title = "Past <the> lid | </script><script>window.hit = 1</script>";
    assert.equal(await tab.page.title(), title);
    assert.equal(await tab.page.textContent("h1"), title);
    assert.equal((await shownLines(tab)).join("\n").replaceAll("\u00a0", ""), FAST.replace(/\n$/, "\n "));
    assert.equal(await tab.page.evaluate(() => (window as { hit?: number }).hit), undefined);
    const names = await tab.page.$$eval(".text-bar option", (all) => all.map((one) => one.textContent));
    assert.deepEqual(names, ["fast.move.yaml", "kit/slider.rig.yaml", "kit/a.camera.yaml", "kit/table.set.yaml"]);
    await tab.page.selectOption(".text-bar select", "3");
    assert.match((await shownLines(tab)).join("\n"), /^set: 1\ntargets:/);
  });

  it("leads from a finding and from a key to their text and back, by mouse and by keys", async () => {
    const { findings, sources } = fast.data;
    const told = findings.findIndex((place) => place !== null);
    const textOf = (place: (typeof findings)[number]): string =>
      place ? sources[place.source].text.slice(place.start, place.end) : "";
    await tab.page.locator(".findings button").nth(told).click();
    assert.equal(await marked(tab), textOf(findings[told]));
    assert.ok((await tab.state()).time > 0);
    await tab.page.click("#tab-keys");
    await tab.page.locator(".keys button").nth(1).focus();
    await tab.page.keyboard.press("Enter");
    await tab.until(({ time }) => time === 1);
    await tab.page.waitForFunction(() => document.activeElement?.matches(".text-lines li"));
    assert.match((await marked(tab)).replace(/\s+/g, " "), /^at: 1 s name: "end <b>" axes: \{ slide: 0\.4 \}$/);
    assert.match(await tab.page.evaluate(() => document.activeElement?.textContent ?? ""), /at: 1 s/);
    // Keys that scroll the text leave the playhead.
    await tab.page.keyboard.press("Home");
    assert.equal((await tab.state()).time, 1);
    await tab.page.keyboard.press("Escape");
    assert.match(await tab.page.evaluate(() => document.activeElement?.textContent ?? ""), /end <b>/);
    // A key's own note beside its line goes the other way.
    await tab.page.locator(".text-lines .note.key").first().click();
    await tab.until(({ time }) => time === 0);
  });

  it("draws clearance from what it holds, and says why there is none of passes", async () => {
    await tab.page.click("#tab-graphs");
    for (const graph of ["Clearance", "Passes", "Shares"]) {
      await tab.page.locator(".which").getByText(graph, { exact: true }).click();
    }
    const state = await tab.until(
      ({ graphs }) => graphs?.plots.every(({ note }) => note !== "Being computed …") === true,
    );
    // The finding that was clicked before has brought its own graph.
    const plotOf = (name: string) => state.graphs?.plots.find(({ title }) => title.startsWith(name));
    const [clearance, passes] = [plotOf("Clearance"), plotOf("Pass")];
    assert.ok(clearance && passes);
    // The mount is 1.2 m over the floor as the kit's rig has it. The camera looks down by 2.9 deg to the lid, and by 2.4 deg
    // more to have it at 0.45 of the picture: that lowers the pupil, 0.09 m ahead of the tilt axis, by 8 mm.
    assert.deepEqual(clearance.lines, [{ name: "floor", reading: "1.19 m (the camera to the floor)" }]);
    assert.match(passes.note ?? "", /^The move is taken once/);
    assert.deepEqual(
      fast.data.series.map(({ name }) => name),
      ["clearance", "passes"],
    );
    assert.ok(JSON.stringify(fast.data.series).length < 10_000, "curves take little room in a page");
  });

  it("covers the stage with the text where there is no room for both", async () => {
    const tab = await host.open(fast.path, { viewport: { width: 390, height: 780 } });
    await tab.state();
    assert.equal(await tab.page.isVisible(".text-pane"), false);
    await tab.page.locator(".findings button").first().click();
    assert.equal(await tab.page.isVisible(".text-pane"), true);
    assert.equal(await tab.page.$eval(".alone-stage", (one) => (one as HTMLElement).inert), true);
    await tab.page.keyboard.press("Escape");
    assert.equal(await tab.page.isVisible(".text-pane"), false);
    await tab.page.click(".foot button");
    assert.equal(await tab.page.isVisible(".text-pane"), true);
    await tab.close();
  });

  it("says why there is nothing to see of a move that can't be solved", async () => {
    const broken = await host.make({ "broken.move.yaml": FAST.replace("kit/slider", "kit/none") });
    const tab = await host.open(broken.path);
    const state = await tab.state();
    assert.match(state.message, /^The move can't be solved yet\. .*none/);
    assert.equal(state.keys, 0);
    await tab.page.locator(".findings button").first().click();
    assert.equal(await marked(tab), "kit/none.rig.yaml");
    assert.deepEqual(tab.complaints, []);
    await tab.close();
  });

  it("lists its findings where the stage can't run, and says why it can't", async () => {
    const old = await host.open(fast.path, { before: "delete window.DecompressionStream;" });
    await old.page.getByText("This browser is too old for the stage").waitFor();
    await old.page
      .getByText(/^fast\.move\.yaml:\d+:\d+: error: axis-speed: /)
      .first()
      .waitFor();
    await old.close();
    const still = await host.open(fast.path, { javaScriptEnabled: false });
    await still.page.getByText("The stage needs scripts").waitFor();
    await still.page
      .getByText(/^fast\.move\.yaml:\d+:\d+: error: axis-speed: /)
      .first()
      .waitFor();
    await still.close();
  });

  it("holds small meshes, and says which it left out and why", async () => {
    const cube = objText(boxTriangles([-0.1, -0.1, 0], [0.1, 0.1, 0.2]));
    // Places that no packing makes short.
    let seed = 1;
    const next = (): string => ((seed = (seed * 48271) % 2147483647) / 2147483647).toFixed(9);
    const heap = Array.from({ length: 40_000 }, () => `v ${next()} ${next()} ${next()}\n`).join("") + "f 1 2 3\n";
    const set = `set: 1\ntargets: { lid: { at: [2, 0, 1.1] } }\nobstacles:\n  pot: { mesh: { file: cube.obj }, at: [2, 0, 0.9] }\n  heap: { mesh: { file: heap.obj }, at: [3, 2, 0] }\n`;
    const made = await host.make({
      "meshes.move.yaml": FAST.replace("kit/table.set.yaml", "pots.set.yaml").replace(", plate: 0", ""),
      "pots.set.yaml": set,
      "cube.obj": cube,
      "heap.obj": heap,
    });
    const tab = await host.open(made.path);
    const state = await tab.until(({ picture }) => (picture?.meshes?.problems.length ?? 0) > 0);
    assert.deepEqual(state.picture?.meshes?.drawn, ["cube.obj"]);
    assert.match(
      state.picture?.meshes?.problems[0] ?? "",
      /^heap\.obj is not drawn\. Packed it takes \d+ kB, .* 400 kB/,
    );
    assert.deepEqual(tab.complaints, []);
    await tab.close();
  });

  it("is the same to the byte for the same documents in another folder, and names no folder of the disk", async () => {
    const again = await host.make({ "fast.move.yaml": FAST });
    assert.notEqual(again.path, fast.path);
    assert.equal(again.html, fast.html);
    const named = JSON.stringify(fast.data);
    assert.doesNotMatch(named, /page-\d|tmp|alone-/);
  });

  it("follows the system's colours and contrast, and is accessible to axe in each", async () => {
    await tab.page.locator(".text-pane select").selectOption("0");
    await tab.page.click("#tab-findings");
    await tab.page.locator(".findings button").first().click();
    for (const [colorScheme, contrast, theme] of [
      ["light", "no-preference", "vscode-light"],
      ["dark", "no-preference", "vscode-dark"],
      ["light", "more", "vscode-high-contrast-light"],
      ["dark", "more", "vscode-high-contrast"],
    ] as const) {
      await tab.page.emulateMedia({ colorScheme, contrast });
      await tab.page.waitForFunction((name) => document.body.className === `alone ${name}`, theme);
      assert.deepEqual(await complaintsOf(tab.page, theme), []);
    }
    assert.deepEqual(tab.complaints, []);
  });
});
