import type { PublishDiagnosticsParams } from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import { documentKind } from "../core/model/document-kind.ts";
import { reportOf } from "./diagnostics.ts";
import type { Session } from "./session.ts";

export interface Pusher {
  /** Sends the findings of the text at once and those of the motion after, unless a newer version comes between. */
  update(file: FileId): Promise<void>;
  /** Clears what was sent for a document that is closed now. */
  clear(file: FileId, uri: string): void;
}

/** For clients that don't ask for diagnostics: open documents only. */
export function createPusher(session: Session, publish: (params: PublishDiagnosticsParams) => void): Pusher {
  const sent = new Map<FileId, string>();
  const { texts, analyses } = session;

  const send = (file: FileId) => {
    const known = analyses.current(file);
    if (!known || !texts.isOpen(file)) return;
    const report = reportOf(session, file, known);
    // A client may wait for a report of its own version, even where the text came back to what it was.
    const name = `${report.resultId} ${report.version}`;
    if (sent.get(file) === name) return;
    sent.set(file, name);
    publish({ uri: texts.uri(file), version: report.version ?? undefined, diagnostics: report.items() });
  };

  return {
    async update(file) {
      if (!documentKind(file)) return;
      await analyses.text(file);
      send(file);
      await analyses.whole(file, "shown");
      send(file);
    },
    clear(file, uri) {
      sent.delete(file);
      publish({ uri, diagnostics: [] });
    },
  };
}
