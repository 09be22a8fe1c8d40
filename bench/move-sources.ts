import type { Sources } from "../core/model/sources.ts";
import { memorySources } from "../test/fixtures/memory-sources.ts";
import { CAMERA, CAMERA_FILE, RIG, RIG_FILE, SET, SET_FILE } from "./documents.ts";

export const MOVE_FILE = "/bench/m.move.yaml";

/** The kit of the benchmark with moves by their files. */
export function sourcesWith(moves: Readonly<Record<string, string>>): Sources {
  const kit: [string, string][] = [
    [RIG_FILE, RIG],
    [CAMERA_FILE, CAMERA],
    [SET_FILE, SET],
  ];
  return memorySources(new Map([...kit, ...Object.entries(moves)]));
}
