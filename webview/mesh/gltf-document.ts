import { decodeBase64 } from "../../core/base/base64.ts";

/** The JSON of a glTF 2.0 file, as far as it is looked at here. */
export interface GltfJson {
  readonly asset?: unknown;
  readonly buffers?: readonly { readonly uri?: string; readonly byteLength?: number }[];
  readonly bufferViews?: readonly {
    readonly buffer: number;
    readonly byteOffset?: number;
    readonly byteLength: number;
  }[];
  readonly accessors?: readonly { readonly count?: number }[];
  readonly materials?: readonly { readonly pbrMetallicRoughness?: { readonly baseColorFactor?: unknown } }[];
  readonly meshes?: readonly { readonly primitives?: readonly Record<string, unknown>[] }[];
  readonly nodes?: readonly Record<string, unknown>[];
}

/** A glTF file with all that it needs. */
export interface GltfDocument {
  readonly json: GltfJson;
  readonly buffers: readonly Uint8Array[];
}

/** Gives a file beside the mesh by the name that the mesh has for it; rejects with a sentence. */
export type ReadPart = (name: string) => Promise<Uint8Array>;

/** Words of GLB, section 4.4 of the specification: "glTF", "JSON", "BIN\0", little-endian. */
const MAGIC = 0x46546c67;
const JSON_CHUNK = 0x4e4f534a;
const BIN_CHUNK = 0x004e4942;

/** More corners than the largest file can hold: such a file would make room for what is not there. */
const MOST_VALUES = 12_000_000;

/**
 * Reads a `.gltf` or `.glb` file and its buffers: embedded, in the file, or beside it. What a mesh is
 * painted with beside its base colours, or moved by, is taken out, so that nothing else is looked for. Throws a sentence for a file that is broken.
 */
export async function openGltf(bytes: Uint8Array, readPart: ReadPart): Promise<GltfDocument> {
  const { json, body } = isGlb(bytes) ? splitGlb(bytes) : { json: parseJson(bytes), body: undefined };
  const values = (json.accessors ?? []).reduce((sum, { count = 0 }) => sum + count, 0);
  if (!(values <= MOST_VALUES)) throw new Error("It says that it holds more than its file can.");
  const buffers = await Promise.all((json.buffers ?? []).map(({ uri }, index) => bufferOf(uri, index, body, readPart)));
  return { json: bareJson(json), buffers };
}

function isGlb(bytes: Uint8Array): boolean {
  return bytes.length >= 12 && viewOf(bytes).getUint32(0, true) === MAGIC;
}

function splitGlb(bytes: Uint8Array): { readonly json: GltfJson; readonly body: Uint8Array | undefined } {
  const view = viewOf(bytes);
  let json: GltfJson | undefined;
  let body: Uint8Array | undefined;
  for (let at = 12; at + 8 <= bytes.length;) {
    const [length, type] = [view.getUint32(at, true), view.getUint32(at + 4, true)];
    const chunk = bytes.subarray(at + 8, at + 8 + length);
    if (chunk.length < length) throw new Error("It ends too soon.");
    if (type === JSON_CHUNK) json ??= parseJson(chunk);
    else if (type === BIN_CHUNK) body ??= chunk;
    at += 8 + length;
  }
  if (!json) throw new Error("It has no JSON in it.");
  return { json, body };
}

function parseJson(bytes: Uint8Array): GltfJson {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    throw new Error("Its JSON is broken.");
  }
  if (typeof json !== "object" || json === null || !("asset" in json)) throw new Error("It is no glTF file.");
  return json;
}

async function bufferOf(
  uri: string | undefined,
  index: number,
  body: Uint8Array | undefined,
  readPart: ReadPart,
): Promise<Uint8Array> {
  if (uri === undefined) {
    if (index === 0 && body) return body;
    throw new Error("A buffer of it is nowhere.");
  }
  const [, embedded] = /^data:[^,]*;base64,(.*)$/s.exec(uri) ?? [];
  if (embedded === undefined) return readPart(decodeURIComponent(uri));
  const bytes = decodeBase64(embedded);
  if (!bytes) throw new Error("A buffer that it embeds is broken.");
  return bytes;
}

/** Shapes, where they stand and their base colours; no pictures, skins, cameras or movement. */
function bareJson(json: GltfJson): GltfJson {
  const { buffers, bufferViews, accessors } = json;
  const meshes = json.meshes?.map((mesh) => ({
    primitives: (mesh.primitives ?? []).map(({ targets: _targets, ...primitive }) => primitive),
  }));
  const materials = json.materials?.map(({ pbrMetallicRoughness }) => {
    const colour = pbrMetallicRoughness?.baseColorFactor;
    return isColour(colour) ? { pbrMetallicRoughness: { baseColorFactor: colour } } : {};
  });
  const nodes = json.nodes?.map(({ skin: _skin, camera: _camera, extensions: _extensions, ...node }) => node);
  const all = json as unknown as Record<string, unknown>;
  const rest = Object.fromEntries(["asset", "scene", "scenes", "extensionsRequired", "extensionsUsed"].map((name) => [name, all[name]])); // prettier-ignore
  const bare = { ...rest, buffers, bufferViews, accessors, materials, meshes, nodes };
  return Object.fromEntries(Object.entries(bare).filter(([, value]) => value !== undefined));
}

function isColour(value: unknown): boolean {
  return Array.isArray(value) && value.length === 4 && value.every((part) => typeof part === "number" && 0 <= part);
}

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
