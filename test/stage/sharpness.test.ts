import assert from "node:assert/strict";
import { Vector3 } from "three";
import type { Body } from "../../core/rig/resolved-rig.ts";
import { unpackTake, packTake } from "../../protocol/codec.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { optics } from "../support/lenses.ts";
import { pixelsOf, stageCamera } from "./independent.ts";
import { photograph, type Screen } from "./screen.ts";
import { smallTake } from "./small-take.ts";
import type { StageTab } from "./stage-host.ts";
import { useStageHost } from "./use-stage-host.ts";

/**
 * 50 mm at f/4, a circle of confusion of 0.03 mm, focused at 10 ft: 2.6646 m to 3.5603 m, 8'9" to 11'8"
 * (insyncpubs.com, article 11, from the entrance pupil).
 */
const [NEAR, FOCUS, FAR] = [2.6646, 3.048, 3.5603];
/** The pupil of the small take at its first instant, and how far the sensor is behind it [m]. */
const PUPIL = [0.052, 0, 1];
const TO_SENSOR = 0.052 + 0.044;

const box = (name: string, at: readonly number[], size: readonly number[]): Body => ({
  name,
  link: -1,
  pose: { at: at as [number, number, number], turn: [0, 0, 0, 1] },
  solid: { shape: "box", size: size as [number, number, number] },
  origin: 0,
});
const ahead = (depth: number, y: number): number[] => [PUPIL[0] + depth, y, PUPIL[2]];
const obstacles = [
  box("front", ahead(2.35, 0.35), [0.2, 0.24, 0.24]),
  box("sharp", ahead(3.1, 0), [0.2, 0.3, 0.3]),
  box("behind", ahead(4.3, -0.7), [0.2, 0.4, 0.4]),
  // Along the view, to be seen from above.
  box("rail", [PUPIL[0] + 3.2, -1.2, 0.3], [3, 0.4, 0.4]),
];

function take(focus = FOCUS + TO_SENSOR): StageTake {
  const small = smallTake({ obstacles, optics: optics({ focal: { low: 0.05, high: 0.05 }, iris: 4 }) });
  const samples = unpackTake(small.samples);
  const even = (value: number): Float64Array => Float64Array.of(value, value);
  // Far off and above the picture: it makes the view from above as wide as is needed here.
  const targets = Float64Array.of(4.8, -0.8, 2, 4.8, -0.8, 2);
  return {
    ...small,
    samples: packTake({
      ...samples,
      focal: even(0.05),
      focus: even(focus),
      targets,
    }),
  };
}

type Tone = "front" | "sharp" | "behind" | "none";

/** By the theme's colours: in front red, sharp green, behind blue. */
function toneOf([r, g, b]: readonly [number, number, number]): Tone {
  const most = Math.max(r, g, b);
  if (most - Math.min(r, g, b) < 25) return "none";
  return most === r ? "front" : most === g ? "sharp" : "behind";
}

describe("depth of field on the set", function () {
  this.timeout(120_000);
  const host = useStageHost();
  let tab: StageTab;

  const open = async (panes: readonly string[], overlays: readonly string[], shown = take()): Promise<void> => {
    tab = await host.open({ width: 1000, height: 800, kept: { panes, overlays } });
    await tab.page.evaluate(() => {
      for (const [name, colour] of [["purple", "#ff0000"], ["green", "#00ff00"], ["blue", "#0000ff"], ["orange", "#808080"], ["yellow", "#808080"], ["red", "#808080"]]) {
        document.documentElement.style.setProperty(`--vscode-charts-${name}`, colour);
      }
    }); // prettier-ignore
    await tab.send({ type: "take", answer: { take: shown } });
    await tab.settle();
  };

  it("tints what is in front, sharp and behind through the lens, hatched upwards and downwards", async () => {
    await open(["lens"], ["sharpness"]);
    const { picture } = await tab.state();
    const [left, top, width, height] = picture!.lens!.rectangle;
    const screen = await photograph(tab.page);
    // Where a pinhole of 50 mm puts the middle of each front face: half of 36 mm spans 0.36 of the depth.
    const patch = (body: Body): { x: number; y: number } => {
      const depth = body.pose.at[0] - 0.1 - PUPIL[0];
      return { x: Math.round(left + width * (0.5 - (50 * body.pose.at[1]) / (36 * depth))), y: Math.round(top + height / 2) }; // prettier-ignore
    };
    const tones = (body: Body): Record<Tone, number> => {
      const counts = { front: 0, sharp: 0, behind: 0, none: 0 };
      const { x, y } = patch(body);
      for (let i = -8; i <= 8; i++) for (let j = -8; j <= 8; j++) counts[toneOf(screen.colour(x + i, y + j))] += 1;
      return counts;
    };
    const all = 17 * 17;
    for (const [i, tone] of (["front", "sharp", "behind"] as const).entries()) {
      assert.equal(tones(obstacles[i])[tone], all, `${tone}: ${JSON.stringify(tones(obstacles[i]))}`);
    }
    // Along a stripe the colour stays; across it changes. Upwards is towards the right and the top.
    const along = (body: Body, up: 1 | -1): number => alike(screen, patch(body), up);
    assert.ok(along(obstacles[0], 1) > 0.95 && along(obstacles[0], -1) < 0.8, `front ${along(obstacles[0], 1)} ${along(obstacles[0], -1)}`); // prettier-ignore
    assert.ok(along(obstacles[2], -1) > 0.95 && along(obstacles[2], 1) < 0.8, `behind ${along(obstacles[2], -1)} ${along(obstacles[2], 1)}`); // prettier-ignore
    assert.equal(along(obstacles[1], 1), 1);
    const readout = await tab.page.locator(".readout div").allTextContents();
    assert.ok(readout.includes(`Near${(NEAR + TO_SENSOR).toFixed(2)} m`), readout.join());
    assert.ok(readout.includes(`Far${(FAR + TO_SENSOR).toFixed(2)} m`), readout.join());
    assert.ok(readout.includes("Irisf/4"), readout.join());
  });

  it("ends where the published depth of field does, seen from above, and builds nothing anew", async () => {
    await open(["top", "lens"], ["sharpness"]);
    const { picture } = await tab.state();
    const stage = picture!.stage!;
    const [left, top, width, height] = stage.rectangle;
    const camera = stageCamera(stage);
    const screen = await photograph(tab.page);
    const at = (x: number): readonly [number, number] => {
      const place = pixelsOf(camera, new Vector3(x, -1.2, 0.5), width, height)!;
      return [left + place[0], top + place[1]];
    };
    const [from, to] = [at(PUPIL[0] + 1.8), at(PUPIL[0] + 4.6)];
    assert.ok(Math.abs(from[1] - to[1]) < 1, "the rail lies across the picture");
    const row: Tone[] = [];
    for (let x = Math.round(from[0]); x <= to[0]; x++) row.push(toneOf(screen.colour(x, Math.round(from[1]))));
    const changes = row.flatMap((tone, i) => (i > 0 && tone !== row[i - 1] ? [[row[i - 1], tone, i] as const] : []));
    assert.deepEqual(changes.map(([before, after]) => `${before} ${after}`), ["front sharp", "sharp behind"]); // prettier-ignore
    for (const [i, depth] of [NEAR, FAR].entries()) {
      const wanted = at(PUPIL[0] + depth)[0] - Math.round(from[0]);
      assert.ok(Math.abs(changes[i][2] - wanted) < 1.5, `${changes[i][2]} px, not ${wanted}`);
    }
    const labels = await tab.page.locator(".labels .depth").allTextContents();
    for (const words of [`near ${(NEAR + TO_SENSOR).toFixed(2)} m`, `focus ${(FOCUS + TO_SENSOR).toFixed(2)} m`, `far ${(FAR + TO_SENSOR).toFixed(2)} m`]) {
      assert.ok(labels.includes(words), labels.join());
    } // prettier-ignore
    await tab.send({ type: "playhead", time: 0.5, key: -1 });
    const later = await tab.until((state) => state.picture?.time === 0.5);
    assert.equal(later.picture?.built, picture?.built);
  });

  it("is not shown while its entry is off, and rests with a reason where no key gives a focus", async () => {
    await open(["lens"], []);
    const { picture } = await tab.state();
    const [left, top, width, height] = picture!.lens!.rectangle;
    const screen = await photograph(tab.page);
    assert.equal(toneOf(screen.colour(Math.round(left + width / 2), Math.round(top + height / 2))), "none");
    assert.equal(await tab.page.isVisible(".sharp-key"), false);
    await tab.send({ type: "take", answer: { take: take(NaN) } });
    await tab.settle();
    assert.equal(await tab.page.textContent("#why-sharpness"), "No key gives a focus.");
    const readout = await tab.page.locator(".readout div").allTextContents();
    assert.ok(readout.includes("Near–"), readout.join());
  });
});

/** Share of px that look like the one 3 px further along a diagonal. @param up 1 for towards the right and the top. */
function alike(screen: Screen, { x, y }: { x: number; y: number }, up: 1 | -1): number {
  let same = 0;
  let all = 0;
  for (let i = -8; i <= 5; i++) {
    for (let j = -5; j <= 5; j++) {
      const [a, b] = [screen.colour(x + i, y + j), screen.colour(x + i + 3, y + j - 3 * up)];
      all += 1;
      if (Math.hypot(...a.map((part, k) => part - b[k])) < 20) same += 1;
    }
  }
  return same / all;
}
