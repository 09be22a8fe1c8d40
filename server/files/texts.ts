import { TextDocument } from "vscode-languageserver-textdocument";
import type { TextDocumentContentChangeEvent } from "vscode-languageserver-textdocument";
import type { FileId } from "../../core/base/span.ts";
import type { SourceState, Sources } from "../../core/model/sources.ts";
import { fileOfUri, uriOfFile } from "./file-uri.ts";

/** Reads a file that is not open. Never rejects: what can't be read is `missing` or `outside`. */
export type ReadFile = (file: FileId) => Promise<SourceState>;

/** The state of the sources at one moment, as far as it was asked for. */
export interface Snapshot extends Sources {
  /** True while every answer that was given is still what the server knows. */
  isFresh(): boolean;
  /** What was answered, by file. */
  readonly given: ReadonlyMap<FileId, SourceState>;
}

/** All texts the server knows: open documents win, others are read once and kept until they change. */
export interface Texts extends Sources {
  open(uri: string, version: number, text: string): FileId;
  /** Applies changes of the client; `undefined` when the document is not open. */
  change(uri: string, version: number, changes: TextDocumentContentChangeEvent[]): FileId | undefined;
  close(uri: string): FileId;
  isOpen(file: FileId): boolean;
  /** Files that are open, in the order they were opened. */
  openFiles(): readonly FileId[];
  /** Version the client gave, for an open document. */
  version(file: FileId): number | undefined;
  /** The uri as the client spells it, else as we do. */
  uri(file: FileId): string;
  /** The text as a document with lines, `undefined` unless it is known. */
  document(file: FileId): TextDocument | undefined;
  snapshot(): Snapshot;
  /** Reads those files that nobody has looked at yet. */
  load(files: readonly FileId[]): Promise<void>;
  /** Reads closed files again, all that are known without `files`, and names those whose text is another now. */
  reload(files?: readonly FileId[]): Promise<readonly FileId[]>;
}

const UNREAD: SourceState = { state: "unread" };

export function createTexts(readFile: ReadFile): Texts {
  const opened = new Map<FileId, { uri: string; document: TextDocument; state: SourceState }>();
  const closed = new Map<FileId, { state: SourceState; document?: TextDocument }>();
  const loading = new Map<FileId, Promise<void>>();

  const read = (file: FileId): SourceState => opened.get(file)?.state ?? closed.get(file)?.state ?? UNREAD;

  const keepOpen = (file: FileId, uri: string, document: TextDocument) =>
    opened.set(file, { uri, document, state: { state: "text", text: document.getText() } });

  const loadOne = (file: FileId): Promise<void> => {
    if (read(file).state !== "unread") return Promise.resolve();
    const running = loading.get(file);
    if (running) return running;
    const started = readFile(file)
      .then((state) => void closed.set(file, { state }))
      .finally(() => loading.delete(file));
    loading.set(file, started);
    return started;
  };

  const reloadOne = async (file: FileId): Promise<boolean> => {
    if (opened.has(file) || !closed.has(file)) return false;
    const now = await readFile(file);
    const before = closed.get(file)?.state ?? UNREAD;
    if (sameState(before, now)) return false;
    closed.set(file, { state: now });
    return true;
  };

  return {
    read,
    open(uri, version, text) {
      const file = fileOfUri(uri);
      keepOpen(file, uri, TextDocument.create(uri, "movewright", version, text));
      return file;
    },
    change(uri, version, changes) {
      const file = fileOfUri(uri);
      const known = opened.get(file);
      if (!known) return undefined;
      keepOpen(file, known.uri, TextDocument.update(known.document, changes, version));
      return file;
    },
    close(uri) {
      const file = fileOfUri(uri);
      opened.delete(file);
      // What is on disk may differ from what was open: it is read again when asked for.
      closed.delete(file);
      return file;
    },
    isOpen: (file) => opened.has(file),
    openFiles: () => [...opened.keys()],
    version: (file) => opened.get(file)?.document.version,
    uri: (file) => opened.get(file)?.uri ?? uriOfFile(file),
    document(file) {
      const known = opened.get(file);
      if (known) return known.document;
      const entry = closed.get(file);
      if (entry?.state.state !== "text") return undefined;
      entry.document ??= TextDocument.create(uriOfFile(file), "movewright", 0, entry.state.text);
      return entry.document;
    },
    snapshot() {
      const given = new Map<FileId, SourceState>();
      return {
        given,
        read(file) {
          const state = given.get(file) ?? read(file);
          given.set(file, state);
          return state;
        },
        isFresh: () => [...given].every(([file, state]) => sameState(state, read(file))),
      };
    },
    async load(files) {
      await Promise.all(files.map(loadOne));
    },
    async reload(files = [...closed.keys()]) {
      const changed = await Promise.all(files.map(reloadOne));
      return files.filter((_, idx) => changed[idx]);
    },
  };
}

/** Equal as answers. Texts are compared as texts: a file saved without a change changes nothing. */
function sameState(one: SourceState, other: SourceState): boolean {
  if (one === other) return true;
  if (one.state === "text" && other.state === "text") return one.text === other.text;
  if (one.state === "bytes" && other.state === "bytes") return one.stamp === other.stamp;
  return one.state === other.state;
}
