import { never } from "../core/base/never.ts";
import type { Take } from "../core/motion/take.ts";
import { decodeBase64 } from "../core/base/base64.ts";
import { encodeBase64 } from "./base64.ts";
import type { PackedNumbers, PackedTable, PackedTake } from "./stage.ts";
import { packSteps, unpackSteps } from "./step-table.ts";

const BYTES = { f32: 4, f64: 8 } as const;

/**
 * How each table of a take travels. What poses and pictures are computed from keeps every bit; what is only drawn as a
 * curve travels in single precision (1e-7 of its value).
 */
const TABLES = {
  t: "f64",
  value: "f64",
  speed: "f32",
  accel: "f32",
  jerk: "f32",
  position: "f64",
  rotation: "f64",
  focal: "f64",
  focus: "f64",
  share: "f32",
  targets: "f64",
  framing: "f64",
  distance: "f64",
  iris: "f64",
  blur: "f32",
  wanted: "f64",
  reached: "f64",
} as const satisfies Record<Exclude<keyof Take, "count">, PackedTable["type"]>;

type TableName = keyof typeof TABLES;

/** Packs a take for JSON. NaN and infinities survive, because they travel as bytes. */
export function packTake(take: Take): PackedTake {
  return packTables(take, (name) => TABLES[name]);
}

/** Packs a take that is looked at for the blink of an eye, as while something is dragged: half as large, to 1e-7 of its values. */
export function packBriefTake(take: Take): PackedTake {
  return packTables(take, (name) => (name === "t" ? "f64" : "f32"));
}

function packTables(take: Take, typeOf: (name: TableName) => PackedTable["type"]): PackedTake {
  const tables: Partial<Record<TableName, PackedNumbers>> = {};
  for (const name of Object.keys(TABLES) as TableName[]) {
    const numbers = take[name];
    if (numbers !== undefined) tables[name] = packTable(numbers, typeOf(name));
  }
  return { count: take.count, ...tables } as unknown as PackedTake;
}

/** Of the largest size in a column: steps of what poses and pictures are computed from, and of what is drawn as a curve. */
const FINE = 2 ** -30;
const COARSE = 2 ** -20;

/**
 * Packs a take for where room is short: a tenth of what `packTake` makes. What poses and pictures are computed from keeps
 * 1e-9 of the largest size in its column, what is only drawn as a curve 1e-6.
 */
export function packSmallTake(take: Take): PackedTake {
  const tables: Partial<Record<TableName, PackedNumbers>> = {};
  for (const name of Object.keys(TABLES) as TableName[]) {
    const numbers = take[name];
    if (numbers === undefined) continue;
    tables[name] = packSteps(numbers, numbers.length / take.count, TABLES[name] === "f64" ? FINE : COARSE);
  }
  return { count: take.count, ...tables } as unknown as PackedTake;
}

/** The take that was packed. Throws `BrokenInvariant` on what `packTake` never makes. */
export function unpackTake(packed: PackedTake): Take {
  const tables: Partial<Record<TableName, Float64Array>> = {};
  for (const name of Object.keys(TABLES) as TableName[]) {
    const table = packed[name];
    if (table !== undefined) tables[name] = unpackNumbers(table);
  }
  return { count: packed.count, ...tables } as unknown as Take;
}

/** The numbers of a table, however it was packed. Throws `BrokenInvariant` on what is not packed here. */
export function unpackNumbers(table: PackedNumbers): Float64Array {
  if (table.type !== "steps") return unpackTable(table);
  const numbers = unpackSteps(table);
  never(numbers === undefined, "a table of steps holds as many numbers as it says");
  return numbers ?? new Float64Array(0);
}

/** Whether the machine keeps numbers as they travel, so that their bytes can be taken as they are. */
const IS_LITTLE_ENDIAN = new Uint8Array(new Uint16Array([1]).buffer)[0] === 1;

/** Packs numbers as little-endian IEEE 754 of the given width. */
export function packTable(numbers: Float64Array, type: PackedTable["type"]): PackedTable {
  if (IS_LITTLE_ENDIAN) {
    const { buffer, byteOffset, byteLength } = type === "f32" ? new Float32Array(numbers) : numbers;
    return { type, data: encodeBase64(new Uint8Array(buffer, byteOffset, byteLength)) };
  }
  const bytes = new Uint8Array(numbers.length * BYTES[type]);
  const view = new DataView(bytes.buffer);
  for (let idx = 0; idx < numbers.length; idx += 1) {
    if (type === "f32") view.setFloat32(idx * 4, numbers[idx], true);
    else view.setFloat64(idx * 8, numbers[idx], true);
  }
  return { type, data: encodeBase64(bytes) };
}

/** The numbers of a packed table, widened to double precision. */
export function unpackTable(table: PackedTable): Float64Array {
  const bytes = decodeBase64(table.data);
  never(bytes === undefined || bytes.length % BYTES[table.type] !== 0, "a packed table holds whole numbers in base64");
  if (bytes === undefined) return new Float64Array(0);
  if (IS_LITTLE_ENDIAN) {
    return table.type === "f32" ? new Float64Array(new Float32Array(bytes.buffer)) : new Float64Array(bytes.buffer);
  }
  const numbers = new Float64Array(bytes.length / BYTES[table.type]);
  const view = new DataView(bytes.buffer);
  for (let idx = 0; idx < numbers.length; idx += 1) {
    numbers[idx] = table.type === "f32" ? view.getFloat32(idx * 4, true) : view.getFloat64(idx * 8, true);
  }
  return numbers;
}
