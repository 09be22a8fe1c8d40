import type { FileId } from "../../core/base/span.ts";

/** Most documents of a workspace that are looked at without being open. */
export const WORKSPACE_CAP = 2000;

/** Files of one sort that the workspace holds, documents of ours or what they name, listed once and then kept by what the watchers tell. */
export interface WorkspaceFiles {
  all(): Promise<readonly FileId[]>;
  appeared(file: FileId): void;
  vanished(file: FileId): void;
  /** Lists anew at the next `all`: the folders changed. */
  reset(): void;
}

export function createWorkspaceFiles(
  list: (cap: number) => Promise<readonly FileId[]>,
  belongs: (file: FileId) => boolean,
): WorkspaceFiles {
  let listed: Promise<Set<FileId>> | undefined;
  const files = () => (listed ??= list(WORKSPACE_CAP).then((found) => new Set(found.filter(belongs))));
  return {
    all: async () => [...(await files())].sort(),
    appeared(file) {
      if (belongs(file) && listed) void listed.then((set) => set.size < WORKSPACE_CAP && set.add(file));
    },
    vanished(file) {
      if (listed) void listed.then((set) => set.delete(file));
    },
    reset: () => (listed = undefined),
  };
}
