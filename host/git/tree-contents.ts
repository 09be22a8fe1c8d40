import { documentKind } from "../../core/model/document-kind.ts";
import { isBinaryFile } from "../../core/model/mesh-file.ts";
import { MAX_BYTES } from "../disk-sources.ts";
import { absent, blobSizes, readBlobs, readBlobStart } from "./blobs.ts";
import { shownName } from "./byte-name.ts";
import { lfsPointer, MAX_POINTER, type LfsPointer } from "./lfs-pointer.ts";
import type { Repository } from "./repository.ts";
import type { Tree, TreeEntry } from "./tree.ts";

/** What the files of a tree have in them. Throws `GitFailure` for one that is in the tree and not here. */
export interface TreeContents {
  /** The beginning of a text, as much as core takes and some more. */
  text(name: string, entry: TreeEntry): Buffer;
  /** Of a binary file [bytes]. */
  size(name: string, entry: TreeEntry): number;
  /** What a file that `text` or `size` was asked for stands for. */
  pointer(entry: TreeEntry): LfsPointer | undefined;
  /** All of a file, `undefined` when it has more than `most` bytes. */
  bytes(entry: TreeEntry, most: number): Buffer | undefined;
  linkTarget(entry: TreeEntry): string;
}

/** Longest target of a link that is followed [bytes]. */
const MAX_LINK = 4096;

/** Looks into objects in as few runs of git as can be: all documents in one, sizes of all meshes in another. */
export function treeContents(repository: Repository, tree: Tree): TreeContents {
  const kept = new Map<string, Buffer>();
  const keep = (objects: readonly string[], most: number): void => {
    for (const [object, content] of readBlobs(repository, objects, most)) kept.set(object, content);
  };
  const texts = once(() =>
    keep(
      objectsOf(tree, (name, { kind }) => kind === "file" && isText(name)),
      MAX_BYTES,
    ),
  );
  const links = once(() =>
    keep(
      objectsOf(tree, (_name, { kind }) => kind === "link"),
      MAX_LINK,
    ),
  );
  const sizes = once(() => {
    const found = blobSizes(
      repository,
      objectsOf(tree, (name, { kind }) => kind === "file" && isBinaryFile(name)),
    );
    const small = [...found].filter(([, size]) => size <= MAX_POINTER);
    keep(
      small.map(([object]) => object),
      MAX_POINTER,
    );
    return found;
  });
  return {
    text(name, { object }) {
      if (isText(name)) texts();
      if (!kept.has(object)) keep([object], MAX_BYTES);
      const content = kept.get(object) ?? readBlobStart(repository, object, MAX_BYTES);
      if (content === undefined) throw absent(repository, shownName(name));
      return content;
    },
    size(name, { object }) {
      const size = sizes().get(object);
      if (size === undefined) throw absent(repository, shownName(name));
      return size;
    },
    pointer({ object }) {
      const content = kept.get(object);
      return content && lfsPointer(content);
    },
    bytes: ({ object }, most) => readBlobs(repository, [object], most).get(object),
    linkTarget({ object }) {
      links();
      return kept.get(object)?.toString("utf8") ?? "";
    },
  };
}

const objectsOf = (tree: Tree, isWanted: (name: string, entry: TreeEntry) => boolean): string[] =>
  [...tree].flatMap(([name, entry]) => (isWanted(name, entry) ? [entry.object] : []));

const isText = (name: string): boolean => documentKind(name) !== undefined || /\.urdf$/i.test(name);

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}
