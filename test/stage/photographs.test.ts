import assert from "node:assert/strict";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import pixelmatch from "pixelmatch";
import { PNG } from "pngjs";
import { demoMove } from "./demo-move.ts";
import { startStageHost, type StageHost } from "./stage-host.ts";
import { takeOf } from "./take-of.ts";
import type { Theme } from "./themes.ts";

const ROOT = path.resolve(import.meta.dirname, "../..");
const PICTURES = path.join(ROOT, "docs/pictures");
/** Share of the px that may differ: fonts are another on each machine, the drawing is not. */
const ALLOWED = 0.05;

const photographs: { name: string; move: string; theme: Theme; key: number; width: number; height: number }[] = [
  { name: "stage-dark", move: "over-the-lid", theme: "dark", key: 2, width: 1100, height: 860 },
  { name: "stage-light", move: "around-the-shoulder", theme: "light", key: 1, width: 760, height: 860 },
  { name: "stage-high-contrast", move: "pot-to-cup", theme: "high-contrast", key: 1, width: 760, height: 860 },
];

// Run with UPDATE_PICTURES=1 to take them anew.
describe("the photographs of the stage in the documentation", () => {
  let host: StageHost;
  before(async () => {
    host = await startStageHost();
  });
  after(() => host.close());

  for (const { name, move, theme, key, width, height } of photographs) {
    it(`show it as it is: ${name}`, async () => {
      const take = takeOf(demoMove(path.join(ROOT, `examples/moves/${move}.move.yaml`)));
      const tab = await host.open({ theme, width, height, answer: { take } });
      await tab.send({ type: "playhead", time: take.keys[key].time, key });
      await tab.settle();
      const shot = await tab.page.screenshot();
      assert.deepEqual(tab.complaints, []);
      await tab.close();
      const file = path.join(PICTURES, `${name}.png`);
      if (process.env.UPDATE_PICTURES === "1") {
        mkdirSync(PICTURES, { recursive: true });
        writeFileSync(file, shot);
      }
      assert.ok(existsSync(file), `${file} is missing: run this test with UPDATE_PICTURES=1`);
      const [taken, kept] = [PNG.sync.read(shot), PNG.sync.read(readFileSync(file))];
      assert.deepEqual([kept.width, kept.height], [width, height]);
      const differing = pixelmatch(taken.data, kept.data, undefined, width, height, { threshold: 0.2 });
      assert.ok(differing < ALLOWED * width * height, `${differing} px differ from ${name}.png`);
    });
  }
});
