import { lstatSync, realpathSync } from "node:fs";
import { isBinaryFile } from "../../core/model/mesh-file.ts";
import type { SourceState, Sources } from "../../core/model/sources.ts";
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
