import assert from "node:assert/strict";
import { PNG } from "pngjs";
import type { Body } from "../../core/rig/resolved-rig.ts";
import { encodeBase64 } from "../../protocol/base64.ts";
import type { StageTake } from "../../protocol/stage.ts";
import type { StagePlate } from "../../protocol/stage-lens.ts";
import { optics } from "../support/lenses.ts";
import { photograph, type Screen } from "./screen.ts";
import { smallTake } from "./small-take.ts";
import type { StageTab } from "./stage-host.ts";
import { useStageHost } from "./use-stage-host.ts";

const RED = [200, 40, 40] as const;
const BLUE = [40, 60, 200] as const;

/** A picture whose left half is red and whose right half is blue. */
function halves(): Uint8Array {
  const png = new PNG({ width: 64, height: 36 });
  for (let y = 0; y < 36; y++) {
    for (let x = 0; x < 64; x++) png.data.set([...(x < 32 ? RED : BLUE), 255], 4 * (64 * y + x));
  }
  return PNG.sync.write(png);
}

/** In the middle of the picture, 0.36 of its height high. */
const crate: Body = {
  name: "crate",
  link: -1,
  pose: { at: [2.052, 0, 1], turn: [0, 0, 0, 1] },
  solid: { shape: "box", size: [0.1, 0.4, 0.4] },
  origin: 0,
};

function take(plate: Partial<StagePlate>, more: Partial<StageTake> = {}): StageTake {
  const whole = { file: "/stills/take.png", stamp: "1", opacity: 1, fills: "captured", ...plate } as const;
  return smallTake({
    targets: [{ name: "lid", at: [2, 0, 9], origin: 0 }],
    obstacles: [crate],
    lens: { plate: whole },
    ...more,
  });
}

describe("the plate of the view through the lens", function () {
  this.timeout(120_000);
  const host = useStageHost();
  let tab: StageTab;

  const open = async (shown: StageTake, bytes = halves()): Promise<void> => {
    tab = await host.open({ width: 800, height: 800, kept: { panes: ["lens"], overlays: ["plate"] } });
    await tab.send({ type: "take", answer: { take: shown } });
    await tab.page.waitForFunction(() => window.editorChannel.sent.some((message) => message.type === "mesh"));
    assert.deepEqual(
      (await tab.messages()).filter(({ type }) => type === "mesh"),
      [{ type: "mesh", mesh: { file: "/stills/take.png" } }],
    );
    await tab.send({ type: "mesh", mesh: { file: "/stills/take.png", data: encodeBase64(bytes), stamp: "1" } });
  };
  const shown = async (): Promise<{
    at: (across: number, down: number) => readonly [number, number, number];
    screen: Screen;
  }> => {
    await tab.until((state) => Boolean(state.picture?.lens?.shown?.plate));
    await tab.settle();
    const { picture } = await tab.state();
    const [left, top, width, height] = picture!.lens!.rectangle;
    const screen = await photograph(tab.page);
    return {
      screen,
      at: (across, down) => screen.colour(Math.round(left + across * width), Math.round(top + down * height)),
    };
  };
  const near = (is: readonly number[], wanted: readonly number[], most: number, what: string): void =>
    assert.ok(
      is.every((part, k) => Math.abs(part - wanted[k]) <= most),
      `${what}: ${is.join()}, not ${wanted.join()}`,
    );

  it("lies over the captured picture with its own colours, and as much as the slider says, by the keyboard", async () => {
    await open(take({}));
    const whole = await shown();
    near(whole.at(0.1, 0.2), RED, 1, "left");
    near(whole.at(0.9, 0.8), BLUE, 1, "right");
    near(whole.at(0.45, 0.5), RED, 1, "over the crate");
    const slider = tab.page.getByRole("slider", { name: "How much the plate covers" });
    await slider.focus();
    await tab.page.keyboard.press("Home");
    const bare = await shown();
    for (let press = 0; press < 10; press++) await tab.page.keyboard.press("ArrowRight");
    assert.equal(await slider.getAttribute("aria-valuetext"), "50 %");
    const half = await shown();
    const under = bare.at(0.1, 0.2);
    near(
      half.at(0.1, 0.2),
      RED.map((part, k) => (part + under[k]) / 2),
      2,
      "half of it",
    );
    assert.ok(Math.hypot(...under.map((part, k) => part - RED[k])) > 60, "nothing covers the scene at 0 %");
  });

  it("fills the delivered crop alone where the move says so", async () => {
    await open(take({ fills: "delivered" }, { deliver: [3072, 1728] }));
    const { at } = await shown();
    // Half of 6144 by 3456: from 0.25 to 0.75.
    near(at(0.27, 0.27), RED, 1, "inside, left");
    near(at(0.73, 0.73), BLUE, 1, "inside, right");
    for (const [across, down] of [[0.22, 0.5], [0.5, 0.2], [0.78, 0.5], [0.5, 0.8]]) {
      assert.ok(Math.hypot(...at(across, down).map((part, k) => part - RED[k])) > 60, `${across} ${down}`);
    } // prettier-ignore
  });

  for (const lens of ["plain", "distorted"] as const) {
    it(`lies behind what stands in the scene once that is asked for, through a ${lens} lens`, async () => {
      const distortion = lens === "plain" ? undefined : { k1: -0.1, k2: 0.01, p1: 0, p2: 0, k3: 0 };
      await open(take({}, { optics: optics({ ...(distortion ? { distortion } : {}) }) }));
      await tab.page.getByRole("checkbox", { name: "behind the scene" }).check();
      const { at } = await shown();
      // The crate is 0.4 m wide at 1.95 m: 0.2 of the width on each side of the middle takes 35 · 0.2 / (36 · 1.95) = 0.1.
      near(at(0.2, 0.3), RED, 3, "left of the crate");
      near(at(0.8, 0.3), BLUE, 3, "right of the crate");
      const front = at(0.45, 0.45);
      assert.ok(Math.max(...front) - Math.min(...front) < 40, `the crate is grey, not ${front.join()}`);
    });
  }

  it("is told of once where it can't be read, and asked for again when its file is another", async () => {
    await open(take({}), new TextEncoder().encode("no picture"));
    const words = "The plate take.png is not shown. Its picture can't be read.";
    const { picture } = await tab.until((state) => (state.picture?.meshes?.problems.length ?? 0) > 0);
    assert.deepEqual(picture?.meshes?.problems, [words]);
    assert.equal(await tab.page.isVisible(".plate-bar"), false);
    await tab.send({ type: "take", answer: { take: take({ stamp: "2" }) } });
    await tab.page.waitForFunction(
      () => window.editorChannel.sent.filter((message) => message.type === "mesh").length === 2,
    );
    await tab.send({ type: "mesh", mesh: { file: "/stills/take.png", data: encodeBase64(halves()), stamp: "2" } });
    const { at } = await shown();
    near(at(0.1, 0.2), RED, 1, "left");
    assert.deepEqual((await tab.state()).picture?.meshes?.problems, []);
    // A move without a plate lets go of it, and its entry rests.
    await tab.send({ type: "take", answer: { take: take({}, { lens: {} }) } });
    await tab.until((state) => state.picture?.lens?.shown?.plate === null);
    assert.equal(await tab.page.isVisible(".plate-bar"), false);
    assert.equal(await tab.page.textContent("#why-plate"), "The move names no `plate`.");
  });
});
