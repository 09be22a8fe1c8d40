import { existsSync } from "node:fs";
import { basename, isAbsolute, join, relative } from "node:path";
import { snapshotForm } from "../core/draw/snapshot.ts";
import { readText } from "../host/disk-sources.ts";
import { fileOfPath } from "../host/file-path.ts";
import { namedUnder } from "../host/walk.ts";
import { shown, type Given } from "./documents.ts";

/** The two files of a snapshot. */
export interface SnapshotFiles {
  readonly picture: string;
  readonly table: string;
}

const SNAPSHOT = /\.snapshot\.(?:svg|md)$/i;
const MOVE = /\.move\.(?:yaml|yml|json)$/i;

/** Beside the move; with `out` at the place under it that the move has under the folder that the command runs in. */
export function snapshotFiles({ path }: Pick<Given, "path">, out: string | undefined): SnapshotFiles {
  const stem = path.replace(MOVE, "");
  const at = out === undefined ? stem : shown(join(out, placeUnder(stem)));
  return { picture: `${at}.snapshot.svg`, table: `${at}.snapshot.md` };
}

function placeUnder(stem: string): string {
  const from = relative(process.cwd(), stem);
  return isAbsolute(from) || /^\.\.(?:[/\\]|$)/.test(from) ? basename(stem) : from;
}

/** For moves whose snapshots would be the same files, such as `a.move.yaml` and `a.move.json`, the one that came before. */
export function sharedSnapshots(moves: readonly Given[], out: string | undefined): ReadonlyMap<Given, Given> {
  const first = new Map<string, Given>();
  const shared = new Map<Given, Given>();
  for (const move of moves) {
    const file = fileOfPath(snapshotFiles(move, out).picture).toLowerCase();
    const before = first.get(file);
    if (before) shared.set(move, before);
    else first.set(file, move);
  }
  return shared;
}

/** Snapshots of ours under some folders whose moves are not there any more. */
export function goneSnapshots(folders: readonly string[], out: string | undefined, known: readonly Given[]): string[] {
  const own = new Set(
    known.flatMap((move) => Object.values<string>({ ...snapshotFiles(move, out) }).map((path) => fileOfPath(path))),
  );
  const found = (out === undefined ? folders : existsSync(out) ? [out] : []).flatMap((folder) =>
    namedUnder(folder, (name) => SNAPSHOT.test(name)),
  );
  return [...new Set(found)].filter((path) => {
    if (own.has(fileOfPath(path)) || snapshotForm(readText(path) ?? "") === undefined) return false;
    const stem = (out === undefined ? path : relative(out, path)).replace(SNAPSHOT, "");
    return !["yaml", "yml", "json"].some((ending) => existsSync(`${stem}.move.${ending}`));
  });
}
