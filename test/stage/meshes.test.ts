import assert from "node:assert/strict";
import { Vector3 } from "three";
import type { Vec3 } from "../../core/base/vec3.ts";
import type { Body } from "../../core/rig/resolved-rig.ts";
import { encodeBase64 } from "../../protocol/base64.ts";
import type { StageMeshAnswer, StageMeshPart, StageState, StageTake } from "../../protocol/stage.ts";
import { pixelsOf, stageCamera } from "./independent.ts";
import { asciiStl, binaryStl, boxTriangles, glbFile, gltfBuffer, gltfFile, gltfJson, objText } from "./mesh-files.ts";
import { changedPixels, middleOf, photograph, type Screen } from "./screen.ts";
import { smallTake } from "./small-take.ts";
import type { StageTab } from "./stage-host.ts";
import { useStageHost } from "./use-stage-host.ts";

/** A box of 0.2 m whose middle is away from the file's origin, so that a wrong axis puts it elsewhere. */
const MIDDLE: Vec3 = [0.5, 0.3, 0.7];
const HALF = 0.1;
const box = boxTriangles(
  MIDDLE.map((part) => part - HALF) as unknown as Vec3,
  MIDDLE.map((part) => part + HALF) as unknown as Vec3,
);
/** Where glTF's axes have to put it: its x stays, its y is up, its z comes towards minus y. */
const TURNED: Vec3 = [MIDDLE[0], -MIDDLE[2], MIDDLE[1]];

const AT: Vec3 = [0.2, -0.1, 0.1];

const mesh = (file: string, more: Partial<Body> = {}, scale: Vec3 = [1, 1, 1]): Body => ({
  name: "mesh",
  link: -1,
  pose: { at: AT, turn: [0, 0, 0, 1] },
  solid: { shape: "mesh", file, scale },
  origin: 0,
  ...more,
});

const isRed = (colour: readonly [number, number, number]): number =>
  colour[0] - Math.max(colour[1], colour[2]) > 6 ? 1 : 0;

describe("meshes on the stage", () => {
  const host = useStageHost();
  let tab: StageTab;
  beforeEach(async () => {
    tab = await host.open({ width: 800, height: 700, kept: { overlays: [] } });
    for (let press = 0; press < 2; press++) await tab.page.keyboard.press("v");
    // Only people are painted with the theme's orange.
    await tab.page.evaluate(() => {
      for (const one of ["blue", "green", "yellow", "orange", "red", "purple"]) {
        document.documentElement.style.setProperty(`--vscode-charts-${one}`, one === "orange" ? "#ff0000" : "#808080");
      }
    });
  });

  const show = async (
    people: readonly Body[],
    stamps: Readonly<Record<string, string>>,
    more: Partial<StageTake> = {},
  ) => {
    const meshes = Object.entries(stamps).map(([file, stamp]) => ({ file, stamp }));
    await tab.send({ type: "take", answer: { take: smallTake({ people, meshes, ...more }) } });
    await tab.settle();
  };
  const asked = async (): Promise<readonly StageMeshPart[]> =>
    (await tab.messages()).flatMap((message) => (message.type === "mesh" ? [message.mesh] : []));
  const untilAsked = async (count: number): Promise<readonly StageMeshPart[]> => {
    await tab.page.waitForFunction(
      (wanted) => window.editorChannel.sent.filter((message) => message.type === "mesh").length >= wanted,
      count,
    );
    return asked();
  };
  const answer = async (part: StageMeshPart, bytes: Uint8Array, stamp = "1"): Promise<void> => {
    const data: StageMeshAnswer = { ...part, data: encodeBase64(bytes), stamp };
    await tab.send({ type: "mesh", mesh: data });
  };
  const untilDrawn = (file: string): Promise<StageState> =>
    tab.until((state) => state.picture?.meshes?.drawn.includes(file) === true);
  const settled = async (): Promise<Screen> => {
    await tab.settle();
    return photograph(tab.page);
  };

  /** Where the stage has to show a place of the set [px]. */
  const pixelOf = async (place: Vec3): Promise<readonly [number, number]> => {
    const { picture } = await tab.state();
    assert.ok(picture?.stage);
    const [left, top, width, height] = picture.stage.rectangle;
    const at = pixelsOf(stageCamera(picture.stage), new Vector3(...place), width, height);
    assert.ok(at);
    return [left + at[0], top + at[1]];
  };

  /** The red things of the picture are where a box about `middle` has to be, and nowhere else. */
  const assertBoxAt = async (middle: Vec3, half: readonly number[] = [HALF, HALF, HALF]): Promise<void> => {
    const screen = await settled();
    const corners: (readonly [number, number])[] = [];
    for (let bits = 0; bits < 8; bits++) {
      const at = middle.map((part, k) => part + ((bits >> k) & 1 ? half[k] : -half[k])) as unknown as Vec3;
      corners.push(await pixelOf(at));
    }
    const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const around = [left - 30, top - 30, right - left + 60, bottom - top + 60];
    const found = middleOf(screen, around, isRed);
    assert.ok(found.weight > 100, `${found.weight} red px`);
    const off = Math.hypot(found.x - (left + right) / 2, found.y - (top + bottom) / 2);
    assert.ok(off < 2.5, `the box is ${off} px off its place`);
  };

  const plus = (place: Vec3): Vec3 => place.map((part, k) => part + AT[k]) as unknown as Vec3;

  const files: readonly [string, string, Uint8Array, Vec3][] = [
    ["a text STL", "/m/box.stl", asciiStl(box), MIDDLE],
    ["a binary STL", "/m/BOX.STL", binaryStl(box), MIDDLE],
    ["an OBJ", "/m/box.obj", objText(box), MIDDLE],
    ["a GLB, whose y is up", "/m/box.glb", glbFile(box), TURNED],
    [
      "a glTF that embeds its buffer",
      "/m/box.gltf",
      gltfFile(gltfJson(box, `data:application/octet-stream;base64,${encodeBase64(gltfBuffer(box))}`)),
      TURNED,
    ],
  ];
  for (const [what, file, bytes, middle] of files) {
    it(`show ${what} where it stands, and before it is there an outline`, async () => {
      await show([mesh(file)], { [file]: "1" });
      assert.deepEqual(await untilAsked(1), [{ file }]);
      const before = await settled();
      await answer({ file }, bytes);
      await untilDrawn(file);
      await assertBoxAt(plus(middle));
      assert.ok(changedPixels(before, await settled(), [0, 0, 800, 700]) > 100);
    });
  }

  it("show a glTF whose buffer stands beside it, and ask for that by its name", async () => {
    const file = "/m/box.gltf";
    await show([mesh(file)], { [file]: "1" });
    await untilAsked(1);
    await answer({ file }, gltfFile(gltfJson(box, "parts/the%20box.bin")));
    assert.deepEqual((await untilAsked(2))[1], { file, part: "parts/the box.bin" });
    await answer({ file, part: "parts/the box.bin" }, gltfBuffer(box));
    await untilDrawn(file);
    await assertBoxAt(plus(TURNED));
  });

  it("scale a mesh, mirror it, and see it from outside then too", async () => {
    const file = "/m/box.stl";
    await show([mesh(file, {}, [-1, 2, 0.5])], { [file]: "1" });
    await untilAsked(1);
    await answer({ file }, binaryStl(box));
    await untilDrawn(file);
    await assertBoxAt(plus([-MIDDLE[0], 2 * MIDDLE[1], MIDDLE[2] / 2]), [HALF, 2 * HALF, HALF / 2]);
  });

  it("are asked for once, and again when they change, the rest of the scene standing", async () => {
    const file = "/m/box.stl";
    await show([mesh(file)], { [file]: "1" });
    await untilAsked(1);
    await answer({ file }, binaryStl(box));
    const first = await untilDrawn(file);
    await show([mesh(file)], { [file]: "1" }, { title: "Another", version: 2 });
    assert.equal((await asked()).length, 1);
    const second = await tab.until((state) => state.version === 2);
    assert.equal(second.picture?.built, first.picture?.built);
    await show([mesh(file)], { [file]: "2" }, { version: 3 });
    await untilAsked(2);
    await assertBoxAt(plus(MIDDLE));
    const lower = boxTriangles([0, 0, 0], [0.2, 0.2, 0.2]);
    await answer({ file }, binaryStl(lower), "2");
    await tab.until((state) => (state.picture?.built ?? 0) > (second.picture?.built ?? 0));
    await assertBoxAt(plus([0.1, 0.1, 0.1]));
  });

  it("on links come along, and bodies that only keep clear are not drawn", async () => {
    const file = "/m/box.stl";
    const rig = smallTake().rig;
    // The slide stands 1 m above the base and is at 0 at the start.
    const pose = { at: [AT[0], AT[1], AT[2] - 1] as const, turn: [0, 0, 0, 1] as const };
    const bodies = [mesh(file, { link: 0, pose }), mesh("/m/clear.stl", { link: 0, only: "clearance" })];
    await show([], { [file]: "1" }, { rig: { ...rig, bodies } });
    assert.deepEqual(await untilAsked(1), [{ file }]);
    await tab.page.evaluate(() => {
      document.documentElement.style.setProperty("--vscode-charts-orange", "#808080");
      document.documentElement.style.setProperty("--vscode-charts-blue", "#ff0000");
    });
    await answer({ file }, binaryStl(box));
    await untilDrawn(file);
    const screen = await settled();
    const at = await pixelOf(plus(MIDDLE));
    assert.ok(
      isRed(screen.colour(Math.round(at[0]), Math.round(at[1]))),
      "the middle of the mesh is of the rig's colour",
    );
  });

  it("that are broken, or not to be had, leave an outline and a sentence", async () => {
    const broken: readonly [string, Uint8Array, RegExp][] = [
      ["/m/a.stl", new TextEncoder().encode("solid nothing\nendsolid nothing\n".padEnd(100)), /a\.stl is not drawn\. It holds no triangles/],
      ["/m/b.stl", new Uint8Array(300).fill(9), /b\.stl is not drawn\. It is neither/],
      ["/m/c.obj", new TextEncoder().encode("v 0 0 0\n"), /c\.obj is not drawn\. It holds no triangles/],
      ["/m/d.glb", glbFile(box).slice(0, 400), /d\.glb is not drawn\./],
      ["/m/e.gltf", new TextEncoder().encode("{"), /e\.gltf is not drawn\. Its JSON is broken/],
      ["/m/f.gltf", gltfFile({ asset: { version: "2.0" }, accessors: [{ count: 1e12 }] }), /f\.gltf is not drawn\. It says/],
      ["/m/g.stl", binaryStl([[[NaN, 0, 0], [1, 0, 0], [0, 1, 0]]]), /g\.stl is not drawn\. It holds places/],
    ]; // prettier-ignore
    const stamps = Object.fromEntries(broken.map(([file]) => [file, "1"]));
    await show([...broken.map(([file]) => mesh(file)), mesh("/m/h.stl")], { ...stamps, "/m/h.stl": "1" });
    await untilAsked(broken.length + 1);
    for (const [file, bytes] of broken) await answer({ file }, bytes);
    await tab.send({ type: "mesh", mesh: { file: "/m/h.stl", problem: "`h.stl` has 9 MB." } });
    const { picture } = await tab.until((state) => state.picture?.meshes?.problems.length === broken.length + 1);
    assert.deepEqual(picture?.meshes?.drawn, []);
    const said = await tab.page.locator(".mesh-notes").innerText();
    for (const [, , sentence] of broken) assert.match(said, sentence);
    assert.match(said, /h\.stl is not drawn\. `h\.stl` has 9 MB\./);
    // What a failure of the way may mend is asked for again, what is broken is not.
    await show([mesh("/m/a.stl"), mesh("/m/h.stl")], { "/m/a.stl": "1", "/m/h.stl": "1" });
    const again = (await untilAsked(broken.length + 2)).slice(broken.length + 1);
    assert.deepEqual(again, [{ file: "/m/h.stl" }]);
  });
});
