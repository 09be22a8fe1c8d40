// Tiny meshes written by hand: one solid box as STL in text and bytes, OBJ, and glTF in its three ways.
import type { Vec3 } from "../../core/base/vec3.ts";

/** The twelve triangles of a box from `low` to `high`, counter-clockwise seen from outside. */
export function boxTriangles(low: Vec3, high: Vec3): readonly (readonly [Vec3, Vec3, Vec3])[] {
  const corner = (bits: number): Vec3 => [0, 1, 2].map((k) => ((bits >> k) & 1 ? high[k] : low[k])) as unknown as Vec3;
  // Corners of each face by their bits (x 1, y 2, z 4), outside on the left when one walks along.
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  return faces.flatMap(([a, b, c, d]) => [
    [corner(a), corner(b), corner(c)] as const,
    [corner(a), corner(c), corner(d)] as const,
  ]);
}

type Triangles = ReturnType<typeof boxTriangles>;

export function asciiStl(triangles: Triangles): Uint8Array {
  const facets = triangles.map(
    (corners) =>
      `facet normal 0 0 0\nouter loop\n${corners.map((at) => `vertex ${at.join(" ")}`).join("\n")}\nendloop\nendfacet`,
  );
  return new TextEncoder().encode(`solid box\n${facets.join("\n")}\nendsolid box\n`);
}

export function binaryStl(triangles: Triangles): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * triangles.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, triangles.length, true);
  triangles.forEach((corners, t) =>
    corners.flat().forEach((value, k) => view.setFloat32(84 + 50 * t + 12 + 4 * k, value, true)),
  );
  return bytes;
}

export function objText(triangles: Triangles): Uint8Array {
  const places = triangles.flatMap((corners) => corners.map((at) => `v ${at.join(" ")}`));
  const faces = triangles.map((_, t) => `f ${3 * t + 1} ${3 * t + 2} ${3 * t + 3}`);
  return new TextEncoder().encode(["mtllib none.mtl", "o box", ...places, "usemtl none", ...faces, ""].join("\n"));
}

/** Places of the triangles as a buffer of glTF. */
export function gltfBuffer(triangles: Triangles): Uint8Array {
  return new Uint8Array(Float32Array.from(triangles.flat(2)).buffer);
}

/** JSON of a glTF 2.0 file with one mesh, a material with a picture that is nowhere, and its places in one buffer. */
export function gltfJson(triangles: Triangles, uri: string | undefined): Record<string, unknown> {
  const places = triangles.flat();
  const ends = (pick: (...values: number[]) => number): number[] =>
    [0, 1, 2].map((k) => Math.fround(pick(...places.map((at) => at[k]))));
  const byteLength = 36 * triangles.length;
  return {
    asset: { version: "2.0" },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, material: 0 }] }],
    materials: [{ pbrMetallicRoughness: { baseColorTexture: { index: 0 } } }],
    textures: [{ source: 0 }],
    images: [{ uri: "nowhere.png" }],
    accessors: [
      {
        bufferView: 0,
        componentType: 5126,
        count: places.length,
        type: "VEC3",
        min: ends(Math.min),
        max: ends(Math.max),
      },
    ],
    bufferViews: [{ buffer: 0, byteLength }],
    buffers: [uri === undefined ? { byteLength } : { uri, byteLength }],
  };
}

export const gltfFile = (json: unknown): Uint8Array => new TextEncoder().encode(JSON.stringify(json));

/** GLB of glTF 2.0, section 4.4: a header and two chunks, each padded to four bytes. */
export function glbFile(triangles: Triangles): Uint8Array {
  const text = JSON.stringify(gltfJson(triangles, undefined));
  const json = new TextEncoder().encode(text.padEnd(Math.ceil(text.length / 4) * 4, " "));
  const body = gltfBuffer(triangles);
  const bytes = new Uint8Array(12 + 8 + json.length + 8 + body.length);
  const view = new DataView(bytes.buffer);
  [0x46546c67, 2, bytes.length, json.length, 0x4e4f534a].forEach((word, k) => view.setUint32(4 * k, word, true));
  bytes.set(json, 20);
  view.setUint32(20 + json.length, body.length, true);
  view.setUint32(24 + json.length, 0x004e4942, true);
  bytes.set(body, 28 + json.length);
  return bytes;
}
