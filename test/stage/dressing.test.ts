import assert from "node:assert/strict";
import type { Body } from "../../core/rig/resolved-rig.ts";
import { encodeBase64 } from "../../protocol/base64.ts";
import { boxTriangles, gltfBuffer, gltfFile, gltfJson } from "./mesh-files.ts";
import { photograph } from "./screen.ts";
import { smallTake } from "./small-take.ts";
import { startStageHost } from "./stage-host.ts";

const crate = (name: string, y: number): Body => ({
  name,
  link: -1,
  pose: { at: [2.052, y, 1], turn: [0, 0, 0, 1] },
  solid: { shape: "box", size: [0.1, 0.3, 0.3] },
  origin: 0,
});

describe("set dressing through the lens", () => {
  it("is paler than an obstacle, of the colours of its glTF file, and gone while its entry is off", async function () {
    this.timeout(120_000);
    const host = await startStageHost();
    const tab = await host.open({ width: 800, height: 800, kept: { panes: ["lens"], overlays: ["dressing"] } });
    // A cube of 0.3 m about the file's origin, red.
    const triangles = boxTriangles([-0.15, -0.15, -0.15], [0.15, 0.15, 0.15]);
    const json = {
      ...gltfJson(triangles, "side.bin"),
      materials: [{ pbrMetallicRoughness: { baseColorFactor: [0.8, 0, 0, 1] } }],
    };
    const vase: Body = { ...crate("vase", 0), solid: { shape: "mesh", file: "/set/vase.gltf", scale: [1, 1, 1] } };
    const take = smallTake({
      targets: [{ name: "lid", at: [2, 0, 9], origin: 0 }],
      obstacles: [crate("obstacle", 0.5)],
      dressing: [crate("dressing", -0.5), vase],
      meshes: [{ file: "/set/vase.gltf", stamp: "1" }],
    });
    await tab.send({ type: "take", answer: { take } });
    for (const [part, bytes] of [[undefined, gltfFile(json)], ["side.bin", gltfBuffer(triangles)]] as const) {
      await tab.page.waitForFunction(
        (wanted) => window.editorChannel.sent.some((one) => one.type === "mesh" && one.mesh.part === wanted),
        part,
      );
      const mesh = { file: "/set/vase.gltf", ...(part ? { part } : {}) };
      await tab.send({ type: "mesh", mesh: { ...mesh, data: encodeBase64(bytes), stamp: "1" } });
    } // prettier-ignore
    await tab.until((state) => state.picture?.meshes?.drawn.length === 1);
    await tab.settle();
    const look = async (): Promise<(y: number) => readonly [number, number, number]> => {
      const { picture } = await tab.state();
      const [left, top, width, height] = picture!.lens!.rectangle;
      const screen = await photograph(tab.page);
      // Front faces are 1.95 m before the pupil: 35 mm on 36 mm.
      return (y) =>
        screen.colour(Math.round(left + width * (0.5 - (35 * y) / (36 * 1.95))), Math.round(top + height * 0.46));
    };
    const shown = await look();
    const off = (colour: readonly number[], other: readonly number[]): number => Math.hypot(...colour.map((part, k) => part - other[k])); // prettier-ignore
    const paper = shown(0.25);
    assert.ok(off(shown(-0.5), paper) > 6, `dressing ${shown(-0.5).join()} on ${paper.join()}`);
    assert.ok(
      off(shown(-0.5), paper) < 0.8 * off(shown(0.5), paper),
      `${shown(-0.5).join()} against ${shown(0.5).join()}`,
    );
    const [red, green, blue] = shown(0);
    assert.ok(red > green + 40 && red > blue + 40, `the vase is red, not ${shown(0).join()}`);
    const built = (await tab.state()).picture?.built;
    await tab.page.locator("summary", { hasText: "Show" }).click();
    await tab.page.getByRole("checkbox", { name: "Set dressing" }).uncheck();
    await tab.page.keyboard.press("Escape");
    await tab.settle();
    const hidden = await look();
    assert.ok(off(hidden(-0.5), paper) < 6 && off(hidden(0), paper) < 6, `${hidden(-0.5).join()} ${hidden(0).join()}`);
    assert.ok(off(hidden(0.5), shown(0.5)) < 6);
    assert.equal((await tab.state()).picture?.built, built);
    assert.deepEqual(tab.complaints, []);
    await host.close();
  });
});
