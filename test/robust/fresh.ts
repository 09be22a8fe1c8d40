import type { Diagnostic } from "vscode-languageserver-protocol";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, analyseText, createMemo } from "../../core/checks/analyse.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import type { DocumentMemo } from "../../core/model/resolution.ts";
import type { Sources } from "../../core/model/sources.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { SETTINGS } from "../../protocol/settings.ts";
import { fileOfUri } from "../../server/files/file-uri.ts";
import { createTexts } from "../../server/files/texts.ts";
import { toDiagnostics } from "../../server/to-lsp.ts";
import type { RobustServer } from "./robust-server.ts";

/** What a server that knows nothing from before says of the documents of a workspace, computed in this process. */
export interface Fresh {
  /** Findings of the text alone. */
  text(path: string): { readonly items: readonly Diagnostic[]; readonly analysis: Analysis };
  /** All findings. */
  whole(path: string): readonly Diagnostic[];
}

/**
 * @param texts Of the open documents, by their paths; those of others are on the disk. Documents that did not change since
 *              the last question are not read again: each of them was read from nothing once.
 */
export function freshOf(server: Pick<RobustServer, "folder" | "uri">, texts: ReadonlyMap<string, string>): Fresh {
  const disk = diskSources([server.folder]);
  const read: DocumentMemo = new Map();
  const known = new Map<string, ReturnType<Sources["read"]>>();
  const sources = (): Sources => {
    const open = new Map([...texts].map(([path, text]) => [fileOfUri(server.uri(path)), text]));
    return {
      read(file) {
        const text = open.get(file);
        if (text !== undefined) return { state: "text", text };
        const state = known.get(file) ?? disk.read(file);
        known.set(file, state);
        return state;
      },
    };
  };
  /** A memo that knows all documents as they are but those that changed. */
  const memoFor = (now: Sources): ReturnType<typeof createMemo> => {
    const memo = createMemo();
    for (const [file, document] of read) {
      const state = now.read(file);
      if (state.state === "text" && "text" in document && state.text === document.text)
        memo.documents.set(file, document);
    }
    return memo;
  };
  const shown = (path: string, analysis: Analysis, now: Sources): readonly Diagnostic[] => {
    const uris = createTexts((file) => Promise.resolve(now.read(file)));
    for (const [each, text] of texts) uris.open(server.uri(each), 1, text);
    const own = uris.document(fileOfUri(server.uri(path)));
    if (!own) throw new Error(`${path} is not open`);
    const places = [...analysis.textFindings, ...analysis.motionFindings].flatMap(({ place, related }) => [
      place.file,
      ...related.map((each) => each.place.file),
    ]);
    const lines = {
      uri: uris.uri,
      document(file: string) {
        if (uris.document(file)) return uris.document(file);
        const state = now.read(file);
        if (state.state === "text") uris.open(uris.uri(file), 0, state.text);
        return uris.document(file);
      },
    };
    for (const file of places) lines.document(file);
    return toDiagnostics(
      lines,
      own,
      [...analysis.textFindings, ...analysis.motionFindings],
      undefined,
      SETTINGS["problems.limit"].default,
    );
  };
  return {
    text(path) {
      const now = sources();
      const memo = memoFor(now);
      const analysis = analyseText(fileOfUri(server.uri(path)), now, memo);
      for (const [file, document] of memo.documents) read.set(file, document);
      return { items: shown(path, analysis, now), analysis };
    },
    whole(path) {
      const now = sources();
      const analysis = runToEnd(analyse(fileOfUri(server.uri(path)), now, memoFor(now)));
      return shown(path, analysis, now);
    },
  };
}
