import { decodeBase64 } from "../base/base64.ts";
import { isRecord, listAt, type Json } from "./json-values.ts";
import type { MeshFault } from "./mesh-points.ts";
import { decodeUtf8 } from "./utf8.ts";

/** A file beside the mesh, by the name that the mesh has for it; `undefined` for one that can't be read. */
export type ReadPart = (name: string) => Uint8Array | undefined;

/** A glTF file with the bytes of its buffers, which are looked for when they are used. */
export interface GltfFile {
  readonly json: Json;
  buffer(index: number): Uint8Array | MeshFault;
}

/** Words of GLB, section 4.4 of the specification: "glTF", "JSON", "BIN\0", little-endian. */
const MAGIC = 0x46546c67;
const JSON_CHUNK = 0x4e4f534a;
const BIN_CHUNK = 0x004e4942;

/** Reads a `.gltf` or `.glb` file; its buffers are embedded, in the file, or beside it. */
export function openGltf(bytes: Uint8Array, readPart: ReadPart): GltfFile | MeshFault {
  const parts = isGlb(bytes) ? splitGlb(bytes) : { text: bytes, body: undefined };
  if ("fault" in parts) return parts;
  let json: unknown;
  try {
    json = JSON.parse(decodeUtf8(parts.text));
  } catch {
    return { fault: "Its JSON is broken." };
  }
  if (!isRecord(json) || !("asset" in json)) return { fault: "It is no glTF file." };
  const known = new Map<number, Uint8Array | MeshFault>();
  const found: Json = json;
  return {
    json,
    buffer(index) {
      const bytesOf = known.get(index) ?? readBuffer(listAt(found, "buffers")[index], index, parts.body, readPart);
      known.set(index, bytesOf);
      return bytesOf;
    },
  };
}

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

function isGlb(bytes: Uint8Array): boolean {
  return bytes.length >= 12 && viewOf(bytes).getUint32(0, true) === MAGIC;
}

function splitGlb(bytes: Uint8Array): { readonly text: Uint8Array; readonly body: Uint8Array | undefined } | MeshFault {
  const view = viewOf(bytes);
  let text: Uint8Array | undefined;
  let body: Uint8Array | undefined;
  for (let at = 12; at + 8 <= bytes.length;) {
    const length = view.getUint32(at, true);
    const type = view.getUint32(at + 4, true);
    const chunk = bytes.subarray(at + 8, at + 8 + length);
    if (chunk.length < length) return { fault: "It ends too soon." };
    if (type === JSON_CHUNK) text ??= chunk;
    else if (type === BIN_CHUNK) body ??= chunk;
    at += 8 + length;
  }
  return text ? { text, body } : { fault: "It has no JSON in it." };
}

function readBuffer(
  buffer: unknown,
  index: number,
  body: Uint8Array | undefined,
  readPart: ReadPart,
): Uint8Array | MeshFault {
  const uri = isRecord(buffer) ? buffer.uri : undefined;
  if (typeof uri !== "string") return index === 0 && body ? body : { fault: "A buffer of it is nowhere." };
  const [, embedded] = /^data:[^,]{0,200};base64,/.test(uri) ? [uri, uri.slice(uri.indexOf(",") + 1)] : [uri];
  if (embedded !== undefined) return decodeBase64(embedded) ?? { fault: "A buffer that it embeds is broken." };
  const name = plainName(uri);
  return readPart(name) ?? { fault: `\`${name}\`, which it names, can't be read.` };
}

/** Names are written with percent signs for what an address can't hold; one that is not is taken as it is. */
function plainName(uri: string): string {
  try {
    return decodeURIComponent(uri);
  } catch {
    return uri;
  }
}
