import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import pixelmatch from "pixelmatch";
import { chromium, type Browser } from "playwright-core";
import { PNG } from "pngjs";
import { Vector3 } from "three";
import { planTrajectory } from "../../core/motion/plan.ts";
import { runToEnd } from "../../core/base/task.ts";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";
import { shippedProgram } from "../support/shipped-program.ts";
import { demoMove } from "./demo-move.ts";
import { inCamera, plainLensCamera, pixelsOf } from "./independent.ts";

/** Width of the page that pictures are drawn on [px]; a PNG of this width is not scaled. */
const WIDTH = 1280;
/** Two programs may draw letters and the edges of lines otherwise: so much of a picture at most. */
const SHARE = 0.003;

describe("pictures as PNG", function () {
  this.timeout(240_000);
  const { folder, run } = shippedProgram("png");
  let browser: Browser;
  before(async () => {
    browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
  });
  after(() => browser.close());

  const draw = (view: string, out: string, ...more: string[]): Buffer => {
    const { status, stderr } = run(
      ...["picture", "good.move.yaml", "--view", view, "--at", "1 s", "--out", out, ...more],
    );
    assert.equal(status, 0, stderr);
    return readFileSync(join(folder(), out));
  };

  for (const view of ["lens", "top", "free"]) {
    it(`are what a browser draws of the same SVG, seen from ${view}`, async () => {
      const ours = PNG.sync.read(draw(view, `${view}.png`, "--width", String(WIDTH)));
      const svg = draw(view, `${view}.svg`).toString("utf8");
      const context = await browser.newContext({
        viewport: { width: ours.width, height: ours.height },
        colorScheme: "light",
      });
      const page = await context.newPage();
      await page.setContent(`<body style="margin:0">${svg.replace(/^<\?xml[^>]*>/, "")}</body>`);
      const theirs = PNG.sync.read(await page.screenshot());
      await context.close();
      assert.deepEqual([theirs.width, theirs.height], [ours.width, ours.height]);
      const [width, height] = [ours.width, ours.height];
      const differing = (data: Uint8Array): number =>
        pixelmatch(ours.data, data, undefined, width, height, { threshold: 0.2 });
      const off = differing(theirs.data);
      assert.ok(off < SHARE * width * height, `${((100 * off) / width / height).toFixed(2)} % differ`);
      // Against bare paper many times as much differs, so there is something that is the same.
      const inked = differing(Buffer.alloc(ours.data.length, 255));
      assert.ok(inked > 5 * off && inked > 2000, `${inked} px are drawn on, ${off} differ`);
    });
  }

  it("show the aimed-at target's cross where three's camera sees the target", () => {
    const scale = 2;
    const png = PNG.sync.read(draw("lens", "large.png", "--width", String(scale * WIDTH)));
    const move = demoMove(join(folder(), "good.move.yaml"));
    assert.equal(move.optics.distortion, undefined);
    const trajectory = runToEnd(planTrajectory(move));
    const instant = trajectory.createInstant();
    trajectory.at(1, instant);
    // The frame's place on the page, as the SVG states it; the picture inside it is three's.
    const svg = draw("lens", "large.svg").toString("utf8");
    const stated = /class="line frame" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"/.exec(svg);
    assert.ok(stated);
    const [left, top, width, height] = stated.slice(1).map(Number);
    const lid = move.targets.findIndex(({ name }) => name === "lid");
    const place = new Vector3().fromArray(instant.targets, 3 * lid);
    assert.ok(inCamera(instant, place).x > 0);
    const seen = pixelsOf(plainLensCamera(move.optics, instant), place, width, height);
    assert.ok(seen);
    const [x, y] = [scale * (left + seen[0]), scale * (top + seen[1])];
    // The cross of what is aimed at is #1f6b37, as no other mark near it but the corners around it, 15 px off.
    let [sumX, sumY, count] = [0, 0, 0];
    const reach = scale * 9;
    for (let py = Math.round(y - reach); py <= y + reach; py++) {
      for (let px = Math.round(x - reach); px <= x + reach; px++) {
        const i = 4 * (py * png.width + px);
        const [r, g, b] = [png.data[i], png.data[i + 1], png.data[i + 2]];
        if (Math.abs(r - 0x1f) + Math.abs(g - 0x6b) + Math.abs(b - 0x37) > 24) continue;
        sumX += px + 0.5;
        sumY += py + 0.5;
        count += 1;
      }
    }
    assert.ok(count > 40, `${count} px of the cross`);
    const off = Math.hypot(sumX / count - x, sumY / count - y);
    assert.ok(off < 1.5, `the cross is ${off} px of ${png.width} off`);
  });
});
