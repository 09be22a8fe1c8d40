import assert from "node:assert/strict";
import { seededRandom } from "../../core/base/random.ts";
import { decodeBase64 } from "../../core/base/base64.ts";
import type { SourceState } from "../../core/model/sources.ts";
import { leftOut, pageMeshes } from "./page-meshes.ts";

/** Bytes that no packing makes smaller. */
function noise(size: number, seed: number): Uint8Array {
  const random = seededRandom(seed);
  return Uint8Array.from({ length: size }, () => Math.floor(random() * 256));
}

describe("files that travel with a page", () => {
  const files: Readonly<Record<string, Uint8Array>> = {
    "/set/take.png": noise(300_000, 1),
    "/set/wide.jpg": noise(500_000, 2),
    "/set/cup.stl": noise(50_000, 3),
  };
  const sources = {
    read: (file: string): SourceState =>
      file in files
        ? { state: "bytes", size: files[file].length, stamp: "1", content: () => files[file] }
        : { state: "missing" },
  };
  const nameOf = (file: string): string => file.replace("/set/", "");

  it("are the plate's too, byte for byte, where there is room for it beside the meshes", () => {
    const page = pageMeshes(["/set/cup.stl", "/set/take.png"], sources, nameOf);
    assert.deepEqual(leftOut(page), []);
    const plate = page.find(({ file }) => file === "take.png");
    assert.ok(plate && "data" in plate);
    assert.deepEqual(decodeBase64(plate.data), files["/set/take.png"]);
  });

  it("leave out a plate that has no room, and say so, and one that is not there", () => {
    assert.deepEqual(leftOut(pageMeshes(["/set/cup.stl", "/set/wide.jpg", "/set/gone.png"], sources, nameOf)), [
      "wide.jpg is not in the page. Packed it takes 501 kB, and all meshes and plates of a page together may take 400 kB. The view through the lens is shown without it.",
      "gone.png is not in the page. It can't be read.",
    ]);
  });
});
