import { isRest } from "./key-timing.ts";
import type { ResolvedKey } from "./resolved-move.ts";

/** A run of keys along paths: positions of its first and last key. Between them every key says by what path it is come to. */
export interface PathRun {
  readonly first: number;
  readonly last: number;
}

/** The runs of a move, in order of time. A path at the first key leads from nowhere and counts for nothing. */
export function pathRuns(keys: readonly ResolvedKey[]): PathRun[] {
  const runs: PathRun[] = [];
  keys.forEach((key, i) => {
    if (i === 0 || !key.path) return;
    const before = runs[runs.length - 1];
    if (before?.last === i - 1) runs[runs.length - 1] = { ...before, last: i };
    else runs.push({ first: i - 1, last: i });
  });
  return runs;
}

export function isOnPath(runs: readonly PathRun[], key: number): boolean {
  return runs.some(({ first, last }) => first <= key && key <= last);
}

/** The keys of a move whose axes go from key to key by themselves. */
export function withoutPaths(keys: readonly ResolvedKey[]): ResolvedKey[] {
  return keys.map(({ path: _path, blend: _blend, ...key }) => key);
}

/** True where the camera rests at an inner key of a run whatever the path does there: a stop, a hold, an ease on either side. */
export function restsAt(keys: readonly ResolvedKey[], key: number): boolean {
  return isRest(keys[key]) || keys[key].ease !== undefined || keys[key + 1]?.ease !== undefined;
}
