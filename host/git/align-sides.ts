import type { FileId } from "../../core/base/span.ts";
import type { ByteSource, Sources } from "../../core/model/sources.ts";
import { lfsPointer, MAX_POINTER } from "./lfs-pointer.ts";

/** Both sides of a comparison with the disk, made to differ only where git would say so. */
export interface AlignedSides {
  readonly before: Sources;
  readonly after: Sources;
  /** Files that were asked for and that git keeps no state of. */
  readonly ignored: ReadonlySet<FileId>;
}

/**
 * What git would take for unchanged is the same on both sides, though line ends are others on the disk, a mesh has another
 * stamp there, or Git LFS did not fill it. A file that git ignores has no older state: it is taken as it is now.
 */
export function alignSides(before: Sources, after: Sources, isIgnored: (file: FileId) => boolean): AlignedSides {
  const ignored = new Set<FileId>();
  return {
    ignored,
    before: {
      read(file) {
        const [old, now] = [before.read(file), after.read(file)];
        if (old.state === "text") {
          return now.state === "text" && withoutReturns(old.text) === withoutReturns(now.text) ? now : old;
        }
        const isThere = now.state === "text" || now.state === "bytes";
        if (old.state !== "missing" || !isThere || !isIgnored(file)) return old;
        ignored.add(file);
        return now;
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

function isSameContent(old: ByteSource, now: ByteSource): boolean {
  if (now.size <= MAX_POINTER && lfsPointer(now.content() ?? new Uint8Array())?.sum === old.stamp) return true;
  if (old.size !== now.size) return false;
  const [one, other] = [old.content(), now.content()];
  return one !== undefined && other !== undefined && Buffer.from(one).equals(Buffer.from(other));
}
