import { lstatSync, realpathSync } from "node:fs";
import { isBinaryFile } from "../../core/model/mesh-file.ts";
import type { ByteSource, SourceState, Sources } from "../../core/model/sources.ts";
import { readText } from "../disk-sources.ts";
import { isOddName } from "./byte-name.ts";
import { gitSources } from "./git-sources.ts";
import { nameInRepository, type Repository } from "./repository.ts";
import { diskPath, type WorkingFiles } from "./working-files.ts";

/** Files as they are on the disk; those that a sparse checkout leaves off are read as they are in the index. */
export function workingSources(repository: Repository, { sparse }: WorkingFiles, disk: Sources): Sources {
  const kept = gitSources(repository, sparse, disk);
  return {
    read(file) {
      const name = nameInRepository(repository, file);
      if (name === undefined) return disk.read(file);
      if (sparse.has(name)) return kept.read(file);
      return isOddName(name) ? readOdd(repository, name) : disk.read(file);
    },
  };
}

/** A document whose name is no UTF-8, which no text can name as a path: by its bytes, and not through links. */
function readOdd(repository: Repository, name: string): SourceState {
  if (isBinaryFile(name)) return { state: "missing" };
  const path = Buffer.from(diskPath(repository, name));
  try {
    const isPlain = lstatSync(path).isFile() && realpathSync.native(path, { encoding: "buffer" }).equals(path);
    const text = isPlain ? readText(path) : undefined;
    return text === undefined ? { state: "outside" } : { state: "text", text };
  } catch {
    return { state: "missing" };
  }
}

/**
 * Two sides of which the one after is on the disk: what git would take for unchanged is the same on both, though line ends
 * are others on the disk, and a mesh has another stamp there.
 */
export function alignSides(before: Sources, after: Sources): { readonly before: Sources; readonly after: Sources } {
  return {
    before: {
      read(file) {
        const [old, now] = [before.read(file), after.read(file)];
        const isSame =
          old.state === "text" && now.state === "text" && withoutReturns(old.text) === withoutReturns(now.text);
        return isSame ? now : old;
      },
    },
    after: {
      read(file) {
        const now = after.read(file);
        const old = now.state === "bytes" ? before.read(file) : undefined;
        return now.state === "bytes" && old?.state === "bytes" && isSameContent(old, now) ? old : now;
      },
    },
  };
}

const withoutReturns = (text: string): string => (text.includes("\r") ? text.replace(/\r\n/g, "\n") : text);

function isSameContent(a: ByteSource, b: ByteSource): boolean {
  if (a.size !== b.size) return false;
  const [one, other] = [a.content(), b.content()];
  return one !== undefined && other !== undefined && Buffer.from(one).equals(Buffer.from(other));
}
