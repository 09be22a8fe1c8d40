import type { Connection } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import type { ChangedFile, ReviewBase } from "../../protocol/review.ts";
import { fileOfUri } from "../files/file-uri.ts";
import { openRevision, type RevisionWorkspace } from "../revision-workspace.ts";
import type { Session } from "../session.ts";

/** The documents of a folder as the base of a review has them, and which of them are others now. */
export interface BaseWorkspace extends RevisionWorkspace {
  readonly base: ReviewBase;
  /**
   * What the disk has otherwise from now on. Reads again what was taken to be as it is now; true where that was another
   * text.
   */
  setChanged(changed: readonly ChangedFile[]): Promise<boolean>;
  /** True for a file that is another one now, unsaved changes counted, that came, or that went. */
  isChanged(file: FileId): boolean;
  /** Looks at the texts that are open: `isChanged` tells of them as they are now. */
  lookAtOpen(): Promise<void>;
  /** The file at the base: another one for a file that was renamed. */
  was(file: FileId): FileId;
  /** Files that were renamed, from the base to now. */
  renames(): ReadonlyMap<FileId, FileId>;
  /** Files under their own names that the disk has otherwise, those that went among them. */
  onDisk(): readonly FileId[];
}

/** Line ends are Git's to change, in what the editor reads: they make no other text. */
const sameText = (one: string, other: string): boolean => one === other || plainEnds(one) === plainEnds(other);
const plainEnds = (text: string): string => text.replace(/\r\n/g, "\n");

export function openBase(connection: Connection, session: Session, base: ReviewBase): BaseWorkspace {
  /** Each with its file at the base. */
  let onDisk = new Map<FileId, FileId>();
  let open = new Set<FileId>();
  let old = new Set<FileId>();
  const mayDiffer = (file: FileId): boolean => onDisk.has(file) || old.has(file) || session.texts.isOpen(file);
  const workspace = openRevision(connection, session, { of: base.of, revision: base.revision, mayDiffer });
  const { texts } = workspace;
  return {
    ...workspace,
    base,
    async setChanged(changed) {
      const before = new Set([...onDisk.keys(), ...old]);
      const files = changed.map(({ uri, was }): [FileId, FileId] => [fileOfUri(uri), fileOfUri(was ?? uri)]);
      onDisk = new Map(files);
      old = new Set(files.map(([, was]) => was));
      const reread = await texts.reload([...onDisk.keys(), ...old].filter((file) => !before.has(file)));
      return reread.length > 0;
    },
    isChanged: (file) => onDisk.has(file) || open.has(file),
    async lookAtOpen() {
      const files = session.texts.openFiles();
      await texts.load(files);
      open = new Set(
        files.filter((file) => {
          const [then, now] = [texts.read(file), session.texts.read(file)];
          if (then.state === "text" && now.state === "text") return !sameText(then.text, now.text);
          return then.state !== "outside" && then.state !== now.state;
        }),
      );
    },
    was: (file) => onDisk.get(file) ?? file,
    renames: () =>
      new Map([...onDisk].flatMap(([file, was]): [FileId, FileId][] => (file === was ? [] : [[was, file]]))),
    onDisk: () => [...onDisk].filter(([file, was]) => file === was).map(([file]) => file),
  };
}
