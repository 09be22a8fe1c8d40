// The stage reads meshes with three.js (MIT): what core takes for their corners must be what is drawn.
import assert from "node:assert/strict";
import type { BufferGeometry, Object3D } from "three";
import { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";
import { OBJLoader } from "three/examples/jsm/loaders/OBJLoader.js";
import { STLLoader } from "three/examples/jsm/loaders/STLLoader.js";
import { encodeBase64 } from "../../protocol/base64.ts";
import {
  asciiStl,
  binaryStl,
  boxTriangles,
  glbFile,
  gltfBuffer,
  gltfFile,
  gltfJson,
  objText,
} from "../../test/stage/mesh-files.ts";
import { ball } from "../../test/support/solids.ts";
import { openGltf } from "../../webview/mesh/gltf-document.ts";
import { readMeshPoints } from "./read-mesh.ts";

const BOX = boxTriangles([0.4, 0.2, 0.6], [0.6, 0.5, 0.9]);
const DIRECTIONS = ball(60, 1);
const text = (...lines: string[]): Uint8Array => new TextEncoder().encode(lines.join("\n"));
const embedded = (bytes: Uint8Array): string => `data:application/octet-stream;base64,${encodeBase64(bytes)}`;

/** How far places reach along some directions: two bodies of which these are equal have one hull. */
function reaches(places: ArrayLike<number>): number[] {
  return DIRECTIONS.map(([x, y, z]) => {
    let most = -Infinity;
    for (let i = 0; i < places.length; i += 3) {
      most = Math.max(most, x * places[i] + y * places[i + 1] + z * places[i + 2]);
    }
    return most;
  });
}

/** Places of all triangles as the stage puts them: of a scene with its nodes applied, glTF turned up. */
async function drawnPlaces(file: string, bytes: Uint8Array, parts: Parts): Promise<number[]> {
  const own = bytes.slice().buffer as ArrayBuffer;
  if (/stl$/i.test(file)) return [...new STLLoader().parse(own).getAttribute("position").array];
  if (file.endsWith("obj")) return placesUnder(new OBJLoader().parse(new TextDecoder().decode(bytes)));
  const { json, buffers } = await openGltf(bytes, async (name) => parts[name]);
  const loader = new GLTFLoader();
  loader.register(() => ({
    name: "buffers-at-hand",
    loadBufferView: async (index: number) => {
      const { buffer, byteOffset = 0, byteLength } = json.bufferViews?.[index] ?? { buffer: 0, byteLength: 0 };
      return buffers[buffer].slice(byteOffset, byteOffset + byteLength).buffer as ArrayBuffer;
    },
  }));
  const { scene } = await loader.parseAsync(json as unknown as string, "");
  scene.rotation.set(Math.PI / 2, 0, 0);
  return placesUnder(scene);
}

function placesUnder(root: Object3D): number[] {
  root.updateMatrixWorld(true);
  const places: number[] = [];
  root.traverse((object) => {
    if (!("isMesh" in object)) return;
    const geometry = (object as unknown as { geometry: BufferGeometry }).geometry
      .clone()
      .applyMatrix4(object.matrixWorld);
    const at = geometry.getAttribute("position");
    const corners = geometry.index ? [...geometry.index.array] : Array.from({ length: at.count }, (_, idx) => idx);
    for (const corner of corners) places.push(at.getX(corner), at.getY(corner), at.getZ(corner));
  });
  return places;
}

type Parts = Readonly<Record<string, Uint8Array>>;

const read = (file: string, bytes: Uint8Array, parts: Parts = {}): ReturnType<typeof readMeshPoints> =>
  readMeshPoints(file, bytes, (name) => parts[name]);

/** Both readers take the mesh, and for the same body. */
async function assertDrawn(file: string, bytes: Uint8Array, parts: Parts = {}): Promise<number[]> {
  const mesh = read(file, bytes, parts);
  if ("fault" in mesh) assert.fail(mesh.fault);
  const [own, theirs] = [reaches(mesh.points), reaches(await drawnPlaces(file, bytes, parts))];
  own.forEach((value, idx) => assert.ok(Math.abs(value - theirs[idx]) < 2e-6, `${value} ${theirs[idx]}`));
  return own;
}

function faultOf(file: string, bytes: Uint8Array, parts: Parts = {}): string {
  const mesh = read(file, bytes, parts);
  if (!("fault" in mesh)) assert.fail(`${file} was read.`);
  return mesh.fault;
}

/** A glTF file whose numbers are of another kind than the plain ones of `gltfJson`. */
interface Written {
  readonly values: Uint8Array;
  readonly accessor: object;
  readonly view?: object;
  readonly nodes?: readonly object[];
  readonly primitive?: object;
  readonly more?: object;
}

/** The other reader asks for these; nothing is made of them here. */
const ENDS = { min: [-1, -1, -1], max: [1, 1, 1] };

function gltfOf({
  values,
  accessor,
  view = {},
  nodes = [{ mesh: 0 }],
  primitive = {},
  more = {},
}: Written): Uint8Array {
  return gltfFile({
    asset: { version: "2.0" },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes,
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, ...primitive }] }],
    accessors: [{ bufferView: 0, componentType: 5126, type: "VEC3", ...ENDS, ...accessor }],
    bufferViews: [{ buffer: 0, byteOffset: 0, byteLength: values.length, ...view }],
    buffers: [{ uri: embedded(values), byteLength: values.length }],
    ...more,
  });
}

const bytesOf = (array: ArrayBufferView): Uint8Array =>
  new Uint8Array(array.buffer, array.byteOffset, array.byteLength);

describe("the corners of a mesh", () => {
  it("are those of a box in each format, glTF's y up", async () => {
    const upright = await assertDrawn("a.stl", binaryStl(BOX));
    for (const [file, bytes] of [
      ["a.STL", asciiStl(BOX)],
      ["b.obj", objText(BOX)],
    ] as const)
      // prettier-ignore
      assert.ok((await assertDrawn(file, bytes)).every((value, idx) => Math.abs(value - upright[idx]) < 1e-6));
    const turned = reaches(BOX.flat().flatMap(([x, y, z]) => [x, -z, y]));
    const json = gltfFile(gltfJson(BOX, "a%20box.bin"));
    for (const own of [
      await assertDrawn("c.glb", glbFile(BOX)),
      await assertDrawn("c.gltf", json, { "a box.bin": gltfBuffer(BOX) }),
      await assertDrawn("c.gltf", gltfFile(gltfJson(BOX, embedded(gltfBuffer(BOX))))),
    ]) {
      own.forEach((value, idx) => assert.ok(Math.abs(value - turned[idx]) < 1e-6));
    }
  });

  it("are moved by the nodes that they hang on, mirrored ones too", async () => {
    const nodes = [
      { children: [1, 2], translation: [1, 2, 3], rotation: [0.1, -0.3, 0.2, 0.9273618495495703] },
      { mesh: 0, scale: [-2, 0.5, 1.5], translation: [0, -1, 0] },
      { children: [3], matrix: [0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 2, 0, 0.5, 0.25, -4, 1] },
      { mesh: 0, rotation: [0, 0.6, 0, 0.8] },
    ];
    await assertDrawn("n.gltf", gltfOf({ values: gltfBuffer(BOX), accessor: { count: 36 }, nodes }));
  });

  it("are read where bytes are strided, whole numbers, few among zeros, or named by indices", async () => {
    const strided = new Float32Array(36 * 4);
    BOX.flat().forEach((at, idx) => strided.set(at, 4 * idx));
    const view = { byteStride: 16 };
    await assertDrawn("s.gltf", gltfOf({ values: bytesOf(strided), accessor: { count: 36 }, view }));
    const whole = Int16Array.from(BOX.flat(2), (value) => Math.round(value * 32767));
    const padded = new Int16Array(36 * 4);
    for (let i = 0; i < 36; i++) padded.set(whole.subarray(3 * i, 3 * i + 3), 4 * i);
    const quantised = { count: 36, componentType: 5122, normalized: true };
    const required = { extensionsRequired: ["KHR_mesh_quantization"], extensionsUsed: ["KHR_mesh_quantization"] };
    await assertDrawn("q.gltf", gltfOf({ values: bytesOf(padded), accessor: quantised, view: { byteStride: 8 }, more: required })); // prettier-ignore
    const places = gltfBuffer(BOX);
    const some = Uint16Array.from([0, 1, 2, 9, 10, 11]);
    const values = new Uint8Array(places.length + 12);
    values.set(places);
    values.set(bytesOf(some), places.length);
    const views = { bufferViews: [{ buffer: 0, byteLength: places.length }, { buffer: 0, byteOffset: places.length, byteLength: 12 }] }; // prettier-ignore
    const accessors = [
      { bufferView: 0, componentType: 5126, type: "VEC3", count: 36, ...ENDS },
      { bufferView: 1, componentType: 5123, type: "SCALAR", count: 6 },
    ];
    await assertDrawn("i.gltf", gltfOf({ values, accessor: {}, primitive: { indices: 1 }, more: { ...views, accessors } })); // prettier-ignore
    const sparse = { count: 6, indices: { bufferView: 1, componentType: 5123 }, values: { bufferView: 0 } };
    const few = [{ componentType: 5126, type: "VEC3", count: 36, sparse, ...ENDS }];
    await assertDrawn("f.gltf", gltfOf({ values, accessor: {}, more: { ...views, accessors: few } }));
  });

  it("leave out what is drawn as lines or not at all", async () => {
    const stray = text(
      "v 9 9 9",
      "v 0 0 0",
      "v 1 0 0",
      "v 0 1 0",
      "v 0 0 1",
      "o a",
      "l 1 2",
      "o b",
      "f 2 3 4",
      "f -1 -2/1 -3//2",
    );
    assert.ok(Math.max(...(await assertDrawn("o.obj", stray))) < 1.1);
    const lines = gltfOf({ values: gltfBuffer(BOX), accessor: { count: 36 }, primitive: { mode: 1 } });
    assert.equal(faultOf("l.gltf", lines), "It holds no triangles.");
  });

  it("are read from OBJ lines that go on in the next, and from text with other ends of lines", async () => {
    const more = text("v 0 0 0\r", "v 1 0 0\r", "v 0 1 0 0.5 0.5 0.5\r", "v 0 0 1\r", "f 1 2 \\\r", " 3 4\r", "");
    assert.equal((await assertDrawn("m.obj", more)).length, DIRECTIONS.length);
  });
});

describe("a mesh that is broken", () => {
  const good = gltfJson(BOX, embedded(gltfBuffer(BOX)));
  const json = (change: object): Uint8Array => gltfFile({ ...good, ...change });
  const cases: readonly (readonly [string, Uint8Array, RegExp])[] = [
    ["a.stl", new Uint8Array(0), /^It is neither/],
    ["a.stl", binaryStl(BOX).subarray(0, 200), /^It is neither/],
    ["a.stl", binaryStl([]), /^It holds no triangles/],
    ["a.stl", text("solid", "facet", "vertex 1 2 x", "vertex 1 2 3", "vertex 3 2 1"), /no numbers/],
    ["a.obj", text("v 0 0 0", "v 1 0 0", "f 1 2 3"), /^A face of it names a place/],
    ["a.obj", text("v 0 0", "v 1 0 0", "v 0 1 0", "f 1 2 3"), /no numbers/],
    ["a.obj", text("v 0 0 0"), /^It holds no triangles/],
    ["a.gltf", text("{"), /^Its JSON is broken/],
    ["a.gltf", text("[]"), /^It is no glTF file/],
    ["a.glb", glbFile(BOX).subarray(0, 300), /^It ends too soon/],
    ["a.glb", glbFile(BOX).subarray(0, 12), /^It has no JSON/],
    ["a.gltf", json({ scenes: [] }), /^It holds no scene/],
    ["a.gltf", json({ scenes: [{ nodes: [7] }] }), /^It names a node/],
    ["a.gltf", json({ nodes: [{ children: [0] }] }), /circle/],
    ["a.gltf", json({ nodes: [{ mesh: 3 }] }), /^It names a mesh/],
    ["a.gltf", json({ accessors: [{ componentType: 5126, type: "VEC3", count: 1e9 }] }), /more than its file can/],
    ["a.gltf", json({ accessors: [{ bufferView: 0, componentType: 5126, type: "VEC3", count: 37 }] }), /too short/],
    ["a.gltf", json({ accessors: [{ bufferView: 0, componentType: 5126, type: "VEC2", count: 3 }] }), /three numbers/],
    ["a.gltf", json({ buffers: [{ uri: "side.bin" }] }), /^`side\.bin`, which it names, can't be read/],
    ["a.gltf", json({ buffers: [{ uri: "data:;base64,%%%%" }] }), /^A buffer that it embeds is broken/],
    ["a.gltf", json({ buffers: [{}] }), /^A buffer of it is nowhere/],
    [
      "a.gltf",
      json({ meshes: [{ primitives: [{ attributes: {}, extensions: { KHR_draco_mesh_compression: {} } }] }] }),
      /`KHR_draco_mesh_compression`/,
    ],
  ];
  it("is told of a file that Git LFS did not fill in, with the cure", () => {
    const pointer = `version https://git-lfs.github.com/spec/v1\noid sha256:${"a".repeat(64)}\nsize 12345\n`;
    for (const file of ["a.stl", "a.obj", "a.glb"]) {
      assert.match(faultOf(file, new TextEncoder().encode(pointer)), /Git LFS keeps it.*`git lfs pull`/);
    }
  });

  for (const [file, bytes, wanted] of cases) {
    it(`is told in a sentence: ${wanted.source} (${file})`, () => assert.match(faultOf(file, bytes), wanted));
  }

  it("ends in points or a sentence, whatever the bytes", () => {
    let seed = 7;
    const next = (): number => (seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0);
    const sources = [binaryStl(BOX), asciiStl(BOX), objText(BOX), glbFile(BOX), gltfFile(good)];
    const names = ["a.stl", "a.stl", "a.obj", "a.glb", "a.gltf"];
    for (let round = 0; round < 1500; round++) {
      const bytes = sources[round % 5].slice(0, next() % 3 === 0 ? next() % 600 : undefined);
      for (let change = next() % 4; change >= 0 && bytes.length > 0; change--)
        bytes[next() % bytes.length] = next() >>> 24;
      const mesh = read(names[round % 5], bytes);
      if ("points" in mesh) assert.ok(mesh.points.length >= 9 && mesh.points.every(Number.isFinite));
      else assert.match(mesh.fault, /^[A-Z`].*\.$/s);
    }
  });
});
