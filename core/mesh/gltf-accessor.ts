import type { GltfFile } from "./gltf-file.ts";
import { isRecord, listAt, numberAt, recordAt, type Json } from "./json-values.ts";
import type { MeshFault } from "./mesh-points.ts";

interface Numbers {
  readonly values: Float64Array;
}

/** How numbers of a component type are read: bytes each, the reader, and what a normalised one is divided by. */
const COMPONENTS: Readonly<Record<number, readonly [number, (view: DataView, at: number) => number, number]>> = {
  5120: [1, (view, at) => view.getInt8(at), 127],
  5121: [1, (view, at) => view.getUint8(at), 255],
  5122: [2, (view, at) => view.getInt16(at, true), 32767],
  5123: [2, (view, at) => view.getUint16(at, true), 65535],
  5125: [4, (view, at) => view.getUint32(at, true), 4294967295],
  5126: [4, (view, at) => view.getFloat32(at, true), 1],
};

/** More than the largest file can hold: such a file would make room for what is not there. */
const MOST_VALUES = 12_000_000;

const NOT_HELD: MeshFault = { fault: "It names places that it does not hold." };

/** The places of an accessor of three numbers each. */
export const readPlaces = (file: GltfFile, index: number): Numbers | MeshFault => readAccessor(file, index, "VEC3", 3);

/** The indices of an accessor. */
export const readIndices = (file: GltfFile, index: number): Numbers | MeshFault =>
  readAccessor(file, index, "SCALAR", 1);

function readAccessor(file: GltfFile, index: number, type: string, width: number): Numbers | MeshFault {
  const accessor = recordAt(listAt(file.json, "accessors"), index);
  if (!accessor) return NOT_HELD;
  if (accessor.type !== type) return { fault: "Its places are not written as three numbers each." };
  const count = numberAt(accessor, "count", -1);
  if (!Number.isInteger(count) || count < 0) return NOT_HELD;
  if (count * width > MOST_VALUES) return { fault: "It says that it holds more than its file can." };
  const values = new Float64Array(count * width);
  // Without a view the values are 0, which a sparse accessor then writes over.
  if ("bufferView" in accessor) {
    const fault = readInto(file, accessor, numberAt(accessor, "bufferView", -1), width, values);
    if (fault) return fault;
  }
  const fault = isRecord(accessor.sparse) ? writeSparse(file, accessor, accessor.sparse, width, values) : undefined;
  return fault ?? { values };
}

/** Reads as many numbers as `out` holds, `width` at each step of the view. */
function readInto(
  file: GltfFile,
  source: Json,
  viewIndex: number,
  width: number,
  out: Float64Array,
  normalized = source.normalized === true,
): MeshFault | undefined {
  const component = COMPONENTS[numberAt(source, "componentType", -1)];
  const view = recordAt(listAt(file.json, "bufferViews"), viewIndex);
  if (!component || !view) return NOT_HELD;
  const packed = Object.keys((view.extensions ?? {}) as object).find((name) => name.includes("compression"));
  if (packed !== undefined) return { fault: `It is compressed by \`${packed}\`: save it without compression.` };
  const [size, read, whole] = component;
  const bytes = file.buffer(numberAt(view, "buffer", -1));
  if (!(bytes instanceof Uint8Array)) return bytes;
  const stride = numberAt(view, "byteStride", size * width);
  const begin = numberAt(source, "byteOffset", 0);
  const length = numberAt(view, "byteLength", -1);
  const offset = numberAt(view, "byteOffset", 0);
  const steps = out.length / width;
  const end = steps === 0 ? 0 : begin + stride * (steps - 1) + size * width;
  const isSound = [stride, begin, length, offset].every((value) => Number.isInteger(value) && value >= 0);
  if (!isSound || end > length || offset + length > bytes.length) return { fault: "A buffer of it is too short." };
  const data = new DataView(bytes.buffer, bytes.byteOffset + offset, length);
  for (let step = 0; step < steps; step++) {
    for (let k = 0; k < width; k++) {
      const value = read(data, begin + stride * step + size * k);
      out[width * step + k] = normalized ? Math.max(-1, value / whole) : value;
    }
  }
  return undefined;
}

function writeSparse(
  file: GltfFile,
  accessor: Json,
  sparse: Json,
  width: number,
  values: Float64Array,
): MeshFault | undefined {
  const count = numberAt(sparse, "count", -1);
  const { indices, values: written } = sparse;
  if (!Number.isInteger(count) || count < 0 || count * width > values.length) return NOT_HELD;
  if (!isRecord(indices) || !isRecord(written)) return NOT_HELD;
  const places = new Float64Array(count);
  const numbers = new Float64Array(count * width);
  const typed = { ...written, componentType: accessor.componentType };
  const fault =
    readInto(file, indices, numberAt(indices, "bufferView", -1), 1, places) ??
    readInto(file, typed, numberAt(written, "bufferView", -1), width, numbers, accessor.normalized === true);
  if (fault) return fault;
  for (let i = 0; i < count; i++) {
    if (places[i] * width >= values.length) return NOT_HELD;
    for (let k = 0; k < width; k++) values[width * places[i] + k] = numbers[width * i + k];
  }
  return undefined;
}
