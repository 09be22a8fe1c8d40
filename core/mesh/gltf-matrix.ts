import { listAt, type Json } from "./json-values.ts";

/** Shape (16,), column by column, as glTF writes matrices. */
export type Matrix4 = readonly number[];

/** glTF is y up: its y is z here, its x stays, its z goes towards minus y. */
export const Y_UP: Matrix4 = [1, 0, 0, 0, 0, 0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 1];

/** The matrix of a node, from its own or from translation, rotation (x, y, z, w) and scale: T · R · S. */
export function matrixOf(node: Json): Matrix4 {
  const whole = numbersAt(node, "matrix", 16);
  if (whole) return whole;
  const [tx, ty, tz] = numbersAt(node, "translation", 3) ?? [0, 0, 0];
  const [x, y, z, w] = numbersAt(node, "rotation", 4) ?? [0, 0, 0, 1];
  const [sx, sy, sz] = numbersAt(node, "scale", 3) ?? [1, 1, 1];
  return [
    ...[1 - 2 * (y * y + z * z), 2 * (x * y + z * w), 2 * (x * z - y * w)].map((value) => value * sx),
    0,
    ...[2 * (x * y - z * w), 1 - 2 * (x * x + z * z), 2 * (y * z + x * w)].map((value) => value * sy),
    0,
    ...[2 * (x * z + y * w), 2 * (y * z - x * w), 1 - 2 * (x * x + y * y)].map((value) => value * sz),
    0,
    ...[tx, ty, tz, 1],
  ];
}

function numbersAt(node: Json, name: string, count: number): readonly number[] | undefined {
  const list = listAt(node, name);
  return list.length === count && list.every((value) => typeof value === "number") ? list : undefined;
}

export function multiply(a: Matrix4, b: Matrix4): Matrix4 {
  return Array.from({ length: 16 }, (_, at) => {
    const row = at % 4;
    const col = 4 * Math.floor(at / 4);
    return a[row] * b[col] + a[row + 4] * b[col + 1] + a[row + 8] * b[col + 2] + a[row + 12] * b[col + 3];
  });
}

/** Adds the point that (x, y, z) is moved to. */
export function applyMatrix(m: Matrix4, x: number, y: number, z: number, out: number[]): void {
  out.push(
    m[0] * x + m[4] * y + m[8] * z + m[12],
    m[1] * x + m[5] * y + m[9] * z + m[13],
    m[2] * x + m[6] * y + m[10] * z + m[14],
  );
}
