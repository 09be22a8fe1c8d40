import { MOST_TRIANGLES, soundPoints, type MeshFault, type MeshPoints } from "./mesh-points.ts";
import { readWords } from "./latin-words.ts";

/** A header, a count, and then so many bytes a triangle: a normal, three corners, two bytes more. */
const HEAD = 84;
const TRIANGLE = 50;

/** STL in bytes, which its length tells, or in text, which begins with "solid". */
export function readStl(bytes: Uint8Array): MeshPoints | MeshFault {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = bytes.length < HEAD ? -1 : view.getUint32(80, true);
  if (count >= 0 && HEAD + TRIANGLE * count === bytes.length) return readBinary(view, count);
  const words = readWords(bytes);
  words.line();
  if (!words.word().startsWith("solid")) return { fault: "It is neither a text nor a binary STL file." };
  return readText(words);
}

function readBinary(view: DataView, count: number): MeshPoints | MeshFault {
  if (count > MOST_TRIANGLES) return { fault: `It holds ${count} triangles, too many.` };
  const points = new Float64Array(9 * count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 9; k++) points[9 * i + k] = view.getFloat32(HEAD + TRIANGLE * i + 12 + 4 * k, true);
  }
  return soundPoints(points);
}

function readText(words: ReturnType<typeof readWords>): MeshPoints | MeshFault {
  const points: number[] = [];
  do {
    // A file may stand on one line.
    for (let word = words.word(); word !== ""; word = words.word()) {
      if (word === "vertex") points.push(words.number(), words.number(), words.number());
    }
  } while (words.line());
  return soundPoints(Float64Array.from(points.slice(0, points.length - (points.length % 9))));
}
