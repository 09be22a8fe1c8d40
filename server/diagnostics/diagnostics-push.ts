import type { PublishDiagnosticsParams } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { Known } from "../analyses.ts";
import { reportOf } from "./diagnostics.ts";
import type { Session } from "../session.ts";

export interface Pusher {
  /** Sends the findings of the text at once and those of the motion after, unless a newer version comes between. */
  update(file: FileId): Promise<void>;
  /** Sends what is found in documents of the workspace that are not open, and clears what was sent for those that went. */
  updateClosed(): Promise<void>;
}

/** What a client has of one document. */
interface Sent {
  readonly uri: string;
  readonly resultId: string;
  readonly version: number | null;
  readonly isEmpty: boolean;
}

/** For clients that don't ask for diagnostics. What they have already is not sent twice. */
export function createPusher(session: Session, publish: (params: PublishDiagnosticsParams) => void): Pusher {
  const sent = new Map<FileId, Sent>();
  const { texts, analyses, background } = session;
  let running: Promise<void> | undefined;
  let isAskedAgain = false;

  const send = (file: FileId, known: Known | undefined) => {
    if (!known) return;
    const { resultId, version, items } = reportOf(session, file, known);
    const before = sent.get(file);
    // A client may wait for a report of its own version, even where the text came back to what it was.
    if (before?.resultId === resultId && (version === null || before.version === version)) return;
    const diagnostics = items();
    // One client's uri may be spelt in another way than ours: what was sent under it is replaced under it.
    const uri = texts.isOpen(file) ? texts.uri(file) : (before?.uri ?? texts.uri(file));
    if (before && before.uri !== uri) clear(file);
    sent.set(file, { uri, resultId, version, isEmpty: diagnostics.length === 0 });
    // Of a document that it doesn't have open a client expects nothing, so no findings are no news.
    if (version === null && diagnostics.length === 0 && (before?.isEmpty ?? true)) return;
    publish({ uri, version: version ?? undefined, diagnostics });
  };

  const clear = (file: FileId) => {
    const before = sent.get(file);
    sent.delete(file);
    if (before?.isEmpty === false) publish({ uri: before.uri, diagnostics: [] });
  };

  const checkClosed = async () => {
    const files = await background.files();
    const wanted = new Set(files);
    for (const file of sent.keys()) if (!wanted.has(file) && !texts.isOpen(file)) clear(file);
    await background.check(
      files.filter((file) => !texts.isOpen(file)),
      { follows: true, took: (file, known) => void (texts.isOpen(file) ? undefined : send(file, known)) },
    );
  };

  return {
    async update(file) {
      if (!documentKind(file)) return;
      const isKept = () => texts.isOpen(file);
      await analyses.text(file);
      if (isKept()) send(file, analyses.current(file));
      await analyses.whole(file, "shown");
      if (isKept()) send(file, analyses.current(file));
    },
    updateClosed() {
      // What changes while a check goes on is looked at by the next one.
      isAskedAgain = running !== undefined;
      running ??= (async () => {
        do {
          isAskedAgain = false;
          await checkClosed();
        } while (isAskedAgain);
      })().finally(() => (running = undefined));
      return running;
    },
  };
}
