import { NO_TRIANGLES, soundPoints, type MeshFault, type MeshPoints } from "./mesh-points.ts";
import { readWords } from "./latin-words.ts";

/** The corners of the faces of an OBJ file. Places that no face uses do not count. */
export function readObj(bytes: Uint8Array): MeshPoints | MeshFault {
  const words = readWords(bytes);
  const places: number[] = [];
  const used = new Set<number>();
  while (words.line()) {
    const kind = words.word();
    if (kind === "v") places.push(words.number(), words.number(), words.number());
    else if (kind === "f") {
      const corners = faceOf(words, places.length / 3);
      if (!corners) return { fault: "A face of it names a place that it does not hold." };
      if (corners.length >= 3) for (const corner of corners) used.add(corner);
    }
  }
  if (used.size === 0) return NO_TRIANGLES;
  const points = new Float64Array(3 * used.size);
  let at = 0;
  for (const corner of used) {
    for (let k = 0; k < 3; k++) points[at + k] = places[3 * corner + k];
    at += 3;
  }
  return soundPoints(points);
}

/** Corners of a face: counted from 1, or back from the last place so far when below 0. */
function faceOf(words: ReturnType<typeof readWords>, count: number): number[] | undefined {
  const corners: number[] = [];
  for (let word = words.word(); word !== ""; word = words.word()) {
    const written = Number(word.split("/")[0]);
    const corner = written < 0 ? count + written : written - 1;
    if (!Number.isInteger(corner) || corner < 0 || corner >= count) return undefined;
    corners.push(corner);
  }
  return corners;
}
