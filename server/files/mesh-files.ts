import { resolveReference } from "../../core/base/path.ts";
import type { FileId } from "../../core/base/span.ts";
import { isBinaryFile, MAX_MESH_BYTES } from "../../core/model/mesh-file.ts";
import { largeFileMessage } from "../../core/model/plate-file.ts";
import { encodeBase64 } from "../../protocol/base64.ts";
import type { StageMesh, StageMeshAnswer, StageMeshPart } from "../../protocol/stage.ts";
import type { Platform } from "../platform.ts";
import type { Texts } from "./texts.ts";

/** The files of meshes, and plates: read when the stage asks for them and not kept, since the stage keeps what it made of them. */
export interface MeshFiles {
  /** A mesh with its stamp; `undefined` unless it is there and small enough. */
  known(file: FileId): StageMesh | undefined;
  /** The bytes of a mesh, or of a file that it names. */
  read(part: StageMeshPart): Promise<StageMeshAnswer>;
  /** Meshes that one of `files` is a part of. */
  owners(files: readonly FileId[]): readonly FileId[];
}

/** Most files that one mesh may name. */
const MOST_PARTS = 64;

export function createMeshFiles(texts: Texts, readBytes: Platform["readBytes"]): MeshFiles {
  const parts = new Map<FileId, Set<FileId>>();

  const stampOf = (file: FileId): string | undefined => {
    const source = texts.read(file);
    return source.state === "bytes" && source.size <= MAX_MESH_BYTES ? source.stamp : undefined;
  };

  const known = (file: FileId): StageMesh | undefined => {
    const stamp = stampOf(file);
    if (stamp === undefined) return undefined;
    const others = [...(parts.get(file) ?? [])].map((part) => stampOf(part) ?? "none");
    return { file, stamp: [stamp, ...others].join(" ") };
  };

  /** Notes a file that a mesh names, so that a change of it is noticed. */
  const note = async (file: FileId, part: FileId): Promise<boolean> => {
    const noted = parts.get(file) ?? new Set<FileId>();
    if (noted.size >= MOST_PARTS && !noted.has(part)) return false;
    parts.set(file, noted.add(part));
    await texts.load([part]);
    return true;
  };

  return {
    known,
    async read(mesh) {
      const { file, part } = mesh;
      const wanted = part === undefined ? file : resolveReference(file, part);
      if (!isBinaryFile(wanted)) return { ...mesh, problem: `\`${part ?? file}\` is no part of a mesh by its name.` };
      if (part !== undefined && !(await note(file, wanted))) {
        return { ...mesh, problem: `It names more than ${MOST_PARTS} files.` };
      }
      const large = largeFileMessage(wanted, texts.read(wanted));
      if (large !== undefined) return { ...mesh, problem: large };
      const bytes = await readBytes(wanted, MAX_MESH_BYTES);
      const stamp = known(file)?.stamp;
      if (bytes && stamp !== undefined) return { ...mesh, data: encodeBase64(bytes), stamp };
      return {
        ...mesh,
        problem: part === undefined ? "It can't be read." : `\`${part}\`, which it names, can't be read.`,
      };
    },
    owners: (files) => [...parts].filter(([, of]) => files.some((file) => of.has(file))).map(([file]) => file),
  };
}
