import { decodeBase64 } from "../core/base/base64.ts";
import { encodeBase64 } from "./base64.ts";
import type { PackedSteps } from "./stage.ts";

// Numbers of a smooth curve differ little from what the ones before them let expect. Each column is rounded to whole steps
// and told by what its differences leave over: a byte or two a number, which also deflate well.

/** Orders of difference that a column may be told by; the shortest is taken. */
const ORDERS = [0, 1, 2, 3] as const;
/** What follows the mark of a number that is none. */
const ODD = [NaN, Infinity, -Infinity] as const;
/** Whole steps stay far below 2^53, so that their differences are exact. */
const MOST_STEPS = 2 ** 48;

/**
 * Packs a table of `width` columns, row-major. A number comes back within half a step, which is at most `share` of the
 * largest size in its column; NaN and infinities come back as they are. The same numbers give the same text.
 *
 * @param share More than 0; below 2^-47 it counts as that.
 */
export function packSteps(numbers: Float64Array, width: number, share: number): PackedSteps {
  const rows = width > 0 ? numbers.length / width : 0;
  const bytes: number[] = [];
  for (let column = 0; column < width; column++) {
    const power = powerOf(numbers, width, column, share);
    const steps = Array.from({ length: rows }, (_, row) => stepsOf(numbers[row * width + column], 2 ** power));
    const ways = ORDERS.map((order) => writeColumn(steps, order));
    const shortest = ways.reduce((best, way) => (way.length < best.length ? way : best));
    // The power as two bytes, so that any double has room.
    bytes.push(ways.indexOf(shortest), (power >> 8) & 255, power & 255);
    for (const byte of shortest) bytes.push(byte);
  }
  return { type: "steps", rows, width, data: encodeBase64(Uint8Array.from(bytes)) };
}

/** The numbers of such a table; `undefined` for what `packSteps` never makes. */
export function unpackSteps({ rows, width, data }: PackedSteps): Float64Array | undefined {
  const bytes = decodeBase64(data);
  if (!bytes) return undefined;
  const numbers = new Float64Array(rows * width);
  let at = 0;
  for (let column = 0; column < width; column++) {
    const order = bytes[at];
    const step = 2 ** (((bytes[at + 1] << 24) >> 16) | bytes[at + 2]);
    at += 3;
    const last: number[] = [0, 0, 0];
    for (let row = 0; row < rows; row++) {
      let code = 0;
      for (let scale = 1; ; scale *= 128) {
        if (at >= bytes.length) return undefined;
        const byte = bytes[at++];
        code += (byte & 127) * scale;
        if (byte < 128) break;
      }
      const told = code === 0 ? undefined : foretold(last, order) + unfolded(code - 1);
      numbers[row * width + column] = told === undefined ? ODD[bytes[at++]] : told * step;
      last.unshift(told ?? last[0]);
      last.pop();
    }
  }
  return at === bytes.length ? numbers : undefined;
}

/** The power of two that is the column's step. */
function powerOf(numbers: Float64Array, width: number, column: number, share: number): number {
  let peak = 0;
  for (let at = column; at < numbers.length; at += width) {
    const size = Math.abs(numbers[at]);
    if (Number.isFinite(size)) peak = Math.max(peak, size);
  }
  return peak > 0 ? Math.max(Math.floor(Math.log2(peak * Math.max(share, 1 / MOST_STEPS))), -1074) : 0;
}

const stepsOf = (value: number, step: number): number => (Number.isFinite(value) ? Math.round(value / step) : value);

function writeColumn(steps: readonly number[], order: number): number[] {
  const out: number[] = [];
  const last = [0, 0, 0];
  for (const value of steps) {
    if (Number.isFinite(value)) {
      writeNumber(folded(value - foretold(last, order)) + 1, out);
      last.unshift(value);
    } else {
      out.push(0, Number.isNaN(value) ? 0 : value > 0 ? 1 : 2);
      last.unshift(last[0]);
    }
    last.pop();
  }
  return out;
}

/** What the numbers before let expect: none, the last, a straight line, a parabola. */
function foretold([a, b, c]: readonly number[], order: number): number {
  return [0, a, 2 * a - b, 3 * (a - b) + c][order];
}

/** Whole numbers to those of 0 and up, small to small. */
const folded = (value: number): number => (value < 0 ? -2 * value - 1 : 2 * value);
const unfolded = (code: number): number => (code % 2 === 0 ? code / 2 : -(code + 1) / 2);

/** Seven bits a byte, lowest first; the highest bit says that more follow. */
function writeNumber(code: number, out: number[]): void {
  let rest = code;
  for (; rest >= 128; rest = Math.floor(rest / 128)) out.push((rest % 128) + 128);
  out.push(rest);
}
