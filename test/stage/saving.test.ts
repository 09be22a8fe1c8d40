import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import pixelmatch from "pixelmatch";
import { PNG } from "pngjs";
import type { StageTake } from "../../protocol/stage.ts";
import { topToFront } from "./moves.ts";
import { savedFile } from "./saved-file.ts";
import { smallTake } from "./small-take.ts";
import { startStageHost, type StageHost, type StageTab } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";

/** Height of the line below a picture [px]. */
const CAPTION = 24;

describe("the stage saves", () => {
  let host: StageHost;
  let tab: StageTab;
  let take: StageTake;
  before(async () => {
    host = await startStageHost();
    take = takeOf(topToFront);
  });
  after(() => host.close());
  afterEach(() => tab.close());

  const choose = async (name: string): Promise<void> => {
    await tab.page.click(".menu summary:has-text('Save')");
    await tab.page.click(`.menu-list button:has-text('${name}')`);
  };
  const keepToLook = (name: string, bytes: Buffer): void => {
    if (process.env.KEEP_SAVED) writeFileSync(`${process.env.KEEP_SAVED}/${name}`, bytes);
  };

  it("a picture of the active view as it is on the screen, its marks with it, and a line about it below", async () => {
    tab = await host.open({ answer: { take }, width: 900, height: 700 });
    await tab.send({ type: "playhead", time: 4.4, key: 2 });
    await tab.settle();
    for (const [key, name] of [
      ["1", "free"],
      ["3", "side"],
      ["5", "lens"],
    ] as const) {
      await tab.page.keyboard.press(key);
      await tab.settle();
      const [pane] = (await tab.state()).picture?.panes ?? [];
      const [x, y, width, height] = ((pane.stage ?? pane.lens)?.rectangle ?? []).map(Math.round);
      const seen = PNG.sync.read(await tab.page.screenshot({ clip: { x, y, width, height } }));
      await choose("Picture of this view");
      const { wish, bytes } = await savedFile(tab);
      keepToLook(`${name}.png`, bytes);
      assert.equal(wish.name, `Lid to spout 01-00-04-10 ${name}.png`);
      const saved = PNG.sync.read(bytes);
      assert.deepEqual([saved.width, saved.height], [width, height + CAPTION]);
      // Letters may be set a part of a px apart; nothing else differs.
      const above = saved.data.subarray(0, seen.data.length);
      const differing = pixelmatch(seen.data, above, undefined, width, height, { threshold: 0.15 });
      assert.ok(differing < width * height * 0.004, `${name}: ${differing} of ${width * height} px differ`);
      // The line below is paper with words on it.
      const colours = new Set<number>();
      for (let i = seen.data.length; i < saved.data.length; i += 4) colours.add(saved.data.readUInt32BE(i));
      assert.ok(colours.size > 10 && saved.data.readUInt32BE(saved.data.length - 4) === 0x1f1f1fff);
    }
    assert.deepEqual(tab.complaints, []);
  });

  it("the delivered picture of the lens, px for px, with its marks where the lens has them", async () => {
    // A lens that needs no warping: in software a large picture takes long as it is.
    const deliver = [1920, 1080] as const;
    const optics = { ...take.optics, distortion: undefined, resolution: [2560, 1440] as const };
    tab = await host.open({ answer: { take: { ...take, optics, deliver } }, width: 700, height: 600 });
    await tab.send({ type: "playhead", time: 4.4, key: 2 });
    await tab.settle();
    const lens = (await tab.state()).picture?.lens;
    assert.ok(lens);
    await choose("Lens picture, 1920 × 1080");
    const { wish, bytes } = await savedFile(tab);
    keepToLook("delivered.png", bytes);
    assert.equal(wish.name, "Lid to spout 01-00-04-10 delivered.png");
    const saved = PNG.sync.read(bytes);
    assert.deepEqual([saved.width, saved.height], [...deliver]);
    // Marks of the panel's lens view, taken to the captured picture and from there to the crop.
    const [wide, high] = lens.rectangle.slice(2);
    const target = lens.targets[0] as readonly [number, number];
    const x = Math.round((target[0] / wide) * 2560 - (2560 - 1920) / 2);
    const y = Math.round((target[1] / high) * 1440 - (1440 - 1080) / 2);
    const colour = (px: number, py: number): string => saved.data.subarray(4 * (py * 1920 + px), 4 * (py * 1920 + px) + 3).join(); // prettier-ignore
    // The arms of the cross have one colour, and what is between them has not.
    const around = [-10, -5, 5, 10].flatMap((off) => [colour(x + off, y), colour(x, y + off)]);
    assert.deepEqual(new Set(around).size, 1, around.join(" "));
    assert.notEqual(colour(x + 9, y + 9), around[0]);
    assert.deepEqual(tab.complaints, []);
    // The page shows what it did.
    await tab.settle();
    assert.deepEqual((await tab.state()).picture?.lens, lens);
  });

  it("a film of the move that is as long as the move, whatever time it takes to draw", async () => {
    tab = await host.open({ answer: { take: smallTake() }, width: 480, height: 520 });
    await choose("Film of this view");
    const { wish, bytes } = await savedFile(tab);
    keepToLook("film.webm", bytes);
    assert.equal(wish.name, "Small free.webm");
    // EBML's own name, RFC 8794, and the document type of WebM.
    assert.deepEqual([...bytes.subarray(0, 4)], [0x1a, 0x45, 0xdf, 0xa3]);
    assert.ok(bytes.subarray(0, 128).includes("webm"));
    const [, , width, height] = (await tab.state()).picture?.stage?.rectangle ?? [];
    const played = await playedFilm(tab, bytes);
    assert.deepEqual([played.width, played.height], [Math.round(width) & ~1, Math.round(height) & ~1]);
    // One second at 25 frames a second: frames 0 to 25.
    assert.ok(Math.abs(played.duration - 26 / 25) < 1e-3, `${played.duration} s`);
    assert.ok(played.changed > 200, `${played.changed} px differ between the beginning and the end`);
    assert.deepEqual(tab.complaints, []);
    // The playhead stays where it was.
    assert.equal((await tab.state()).time, 0);
    assert.equal(await tab.page.locator("dialog[open]").count(), 0);
  });

  it("nothing when filming is stopped", async () => {
    tab = await host.open({ answer: { take }, width: 480, height: 520 });
    await choose("Film of this view");
    await tab.page.click("dialog.progress button");
    await tab.page.locator(".unseen", { hasText: "Filming was stopped" }).waitFor({ state: "attached" });
    assert.deepEqual(await tab.messages(), [{ type: "ready" }]);
    assert.equal(await tab.page.locator("dialog[open]").count(), 0);
  });

  it("says why where it can't, to keys and screen readers too", async () => {
    tab = await host.open({ answer: { take }, webgl: false });
    const film = tab.page.locator(".menu-list button", { hasText: "Film of this view" });
    await tab.page.locator(".menu summary", { hasText: "Save" }).focus();
    await tab.page.keyboard.press("Enter");
    await tab.page.keyboard.press("ArrowUp");
    assert.ok(await film.evaluate((one) => one === document.activeElement));
    assert.equal(await film.getAttribute("aria-disabled"), "true");
    const described = (await film.getAttribute("aria-describedby")) ?? "";
    assert.match((await tab.page.locator(`#${described}`).textContent()) ?? "", /needs WebGL 2/);
    await tab.page.keyboard.press("Enter");
    await tab.page.keyboard.press("Escape");
    assert.equal(await tab.page.locator(".menu[open]").count(), 0);
    assert.deepEqual(await tab.messages(), [{ type: "ready" }]);
  });

  it("tells a failure of the editor in words", async () => {
    tab = await host.open({ answer: { take: smallTake() } });
    await choose("Picture of this view");
    for (let tries = 0; tries < 100 && !(await tab.messages()).some(({ type }) => type === "save"); tries++)
      await tab.page.waitForTimeout(50);
    await tab.send({ type: "saved", id: 1, outcome: { end: "failed", why: "The disk is full." } });
    await tab.settle();
    const message = "Small 00-00-00-00 free.png was not saved. The disk is full.";
    assert.deepEqual((await tab.messages()).at(-1), { type: "failed", message });
  });
});

/** What Chromium makes of a film: a page without the stage's policy plays it. */
async function playedFilm(
  { page }: StageTab,
  bytes: Buffer,
): Promise<{ duration: number; width: number; height: number; changed: number }> {
  const player = await page.context().newPage();
  const answer = await player.evaluate(async (data) => {
    const content = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
    const video = document.createElement("video");
    video.muted = true;
    // Methods, which a loader of TypeScript leaves as they are.
    const film = {
      at(name: string): Promise<unknown> {
        return new Promise((resolve, reject) => {
          video.addEventListener(name, resolve, { once: true });
          video.addEventListener("error", () => reject(new Error(video.error?.message ?? "no film")), { once: true });
        });
      },
      async look(time: number): Promise<Uint8ClampedArray> {
        const sought = film.at("seeked");
        video.currentTime = time;
        await sought;
        const canvas = Object.assign(document.createElement("canvas"), {
          width: video.videoWidth,
          height: video.videoHeight,
        });
        const pen = canvas.getContext("2d") as CanvasRenderingContext2D;
        pen.drawImage(video, 0, 0);
        return pen.getImageData(0, 0, canvas.width, canvas.height).data;
      },
    };
    const ready = film.at("loadeddata");
    video.src = URL.createObjectURL(new Blob([content], { type: "video/webm" }));
    await ready;
    const { duration, videoWidth: width, videoHeight: height } = video;
    const [first, last] = [await film.look(0.02), await film.look(duration - 0.02)];
    let changed = 0;
    for (let i = 0; i < first.length; i += 4) if (Math.abs(first[i] - last[i]) > 30) changed += 1;
    return { duration, width, height, changed };
  }, bytes.toString("base64"));
  await player.close();
  return answer;
}
