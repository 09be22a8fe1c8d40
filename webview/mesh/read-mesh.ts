import type { Object3D } from "three";
import { openGltf, type GltfDocument, type ReadPart } from "./gltf-document.ts";
import { shapeOfGeometry, shapeOfObject, type MeshShape } from "./mesh-shape.ts";

/**
 * Reads a mesh by the name of its file. Rejects with a sentence for one that is broken. STL and OBJ keep their axes; glTF is
 * y up by its standard, and is turned so that its y is z here and its x stays.
 *
 * @param readPart Gives the files that the mesh names.
 */
export async function readMesh(file: string, bytes: Uint8Array, readPart: ReadPart): Promise<MeshShape> {
  switch (file.slice(file.lastIndexOf(".") + 1).toLowerCase()) {
    case "stl":
      return readStl(bytes);
    case "obj":
      return readObj(bytes);
    default:
      return readGltf(await openGltf(bytes, readPart));
  }
}

// The readers are set up when the first mesh comes, so that the first picture of a take does not wait for them.

async function readStl(bytes: Uint8Array): Promise<MeshShape> {
  const isText = new TextDecoder().decode(bytes.subarray(0, 64)).trimStart().startsWith("solid");
  // A header and a count, then 50 bytes a triangle.
  const count = bytes.length < 84 ? 0 : new DataView(bytes.buffer, bytes.byteOffset).getUint32(80, true);
  if (84 + 50 * count !== bytes.length && !isText) throw new Error("It is neither a text nor a binary STL file.");
  const { STLLoader } = await import("three/examples/jsm/loaders/STLLoader.js");
  const geometry = new STLLoader().parse(ownBuffer(bytes));
  // What STL files have for normals is often empty; those of the triangles hold.
  geometry.deleteAttribute("normal");
  return shapeOfGeometry(geometry);
}

async function readObj(bytes: Uint8Array): Promise<MeshShape> {
  const { OBJLoader } = await import("three/examples/jsm/loaders/OBJLoader.js");
  return shapeOfObject(new OBJLoader().parse(new TextDecoder().decode(bytes)));
}

async function readGltf({ json, buffers }: GltfDocument): Promise<MeshShape> {
  const { GLTFLoader } = await import("three/examples/jsm/loaders/GLTFLoader.js");
  const loader = new GLTFLoader();
  // Buffers are at hand already; the reader would look for them in the network, where the page may not go.
  loader.register(() => ({
    name: "buffers-at-hand",
    loadBufferView: async (index: number) => {
      const { buffer, byteOffset = 0, byteLength } = json.bufferViews?.[index] ?? { buffer: -1, byteLength: 0 };
      const whole = buffers[buffer];
      if (!whole || byteOffset + byteLength > whole.length) throw new Error("A buffer of it is too short.");
      return ownBuffer(whole.subarray(byteOffset, byteOffset + byteLength));
    },
  }));
  const { scene } = await loader.parseAsync(json as unknown as string, "");
  return shapeOfObject(upright(scene));
}

function upright(scene: Object3D): Object3D {
  scene.rotation.set(Math.PI / 2, 0, 0);
  return scene;
}

/** The bytes in a buffer that holds nothing else. */
const ownBuffer = (bytes: Uint8Array): ArrayBuffer => bytes.slice().buffer as ArrayBuffer;
