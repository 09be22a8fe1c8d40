import type { FileId } from "../../core/base/span.ts";
import type { ByteSource, SourceState, Sources } from "../../core/model/sources.ts";
import { digestOf } from "./entry-name.ts";

/** Sources that note what is read of them. */
export interface NotedSources extends Sources {
  /** Begins a new list and gives the one before. */
  takeReads(): ReadonlySet<FileId>;
  /** What a file is, its whole content included; `undefined` for one that changed while it was looked at. */
  digest(file: FileId): string | undefined;
}

/** Notes what is read of `sources`, which must give one state of each file as long as they are used. */
export function notedSources(sources: Sources): NotedSources {
  let reads = new Set<FileId>();
  const states = new Map<FileId, SourceState>();
  const digests = new Map<FileId, string | undefined>();
  const stateOf = (file: FileId): SourceState => {
    const known = states.get(file);
    if (known) return known;
    const state = sources.read(file);
    const noted = state.state === "bytes" ? notedBytes(state, (seen) => agree(file, seen)) : state;
    states.set(file, noted);
    return noted;
  };
  /** Bytes are read each time that they are asked for: what was worked on must be what is named. */
  const agree = (file: FileId, seen: string): void => {
    const isOther = digests.has(file) && digests.get(file) !== seen;
    digests.set(file, isOther ? undefined : seen);
  };
  return {
    read(file) {
      reads.add(file);
      return stateOf(file);
    },
    takeReads() {
      const taken = reads;
      reads = new Set();
      return taken;
    },
    digest(file) {
      const state = stateOf(file);
      if (!digests.has(file)) {
        if (state.state === "bytes") state.content();
        else digests.set(file, state.state === "text" ? `text ${digestOf(state.text)}` : state.state);
      }
      return digests.get(file);
    },
  };
}

/** A file whose every reading is told. One that is too large to be read is known by its size. */
function notedBytes(state: ByteSource, tell: (digest: string) => void): ByteSource {
  return {
    ...state,
    content() {
      const bytes = state.content();
      tell(bytes ? `bytes ${digestOf(bytes)}` : `unreadable ${state.size}`);
      return bytes;
    },
  };
}
