import type { Connection } from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import { documentKind } from "../core/model/document-kind.ts";
import {
  STATUS_CHANGED,
  STATUS_REQUEST,
  type StatusChangedParams,
  type StatusParams,
  type StatusResult,
} from "../protocol/status.ts";
import { fileOfUri } from "./files/file-uri.ts";
import { guarded } from "./guard.ts";
import { inTime } from "./patience.ts";
import { statusOf } from "./service/status.ts";
import type { Session } from "./session.ts";
import { toLocation } from "./to-lsp.ts";
import { readyViewOf } from "./views.ts";

/** An answer waits so long for a move that is being solved, so that quick ones are not told of twice [ms]. */
const PATIENCE_MS = 150;
const STOPPED = "The check of the other documents was stopped; the next edit or Check Workspace goes on with it.";

export interface StatusFlow {
  /** `files` are all documents whose status may differ now. */
  textsChanged(files: readonly FileId[]): void;
}

/** Answers how near a move comes to its limits, and tells once when the answer would be another one. */
export function registerStatus(connection: Connection, session: Session): StatusFlow {
  const { analyses, log } = session;
  const watched = new Map<FileId, string>();

  const tell = (file: FileId) => {
    const uri = watched.get(file);
    if (uri === undefined || !watched.delete(file)) return;
    const params: StatusChangedParams = { uri };
    connection
      .sendNotification(STATUS_CHANGED, params)
      .catch((error: unknown) => log(`Telling of a new status failed: ${String(error)}`));
  };
  // Whoever has a move solved anew, after an edit of it or of a file that it uses: the answer is another one.
  analyses.onWhole(tell);

  connection.onRequest(STATUS_REQUEST, ({ uri }: StatusParams, token) =>
    guarded("the status", log, token, () => answer(session, uri, watched)),
  );

  return {
    textsChanged(files) {
      for (const file of files) {
        if (!watched.has(file)) continue;
        analyses.whole(file, "shown").catch((error: unknown) => log(`Solving for a status failed: ${String(error)}`));
      }
    },
  };
}

async function answer(session: Session, uri: string, watched: Map<FileId, string>): Promise<StatusResult> {
  const { analyses, texts } = session;
  const file = fileOfUri(uri);
  if (documentKind(file)?.kind !== "move") return null;
  await inTime(analyses.whole(file, "shown"), PATIENCE_MS);
  const view = await readyViewOf(session, file);
  const status = view && statusOf(view, analyses.current(file)?.whole === true);
  if (!status) return null;
  watched.set(file, uri);
  const { place, lines, ...rest } = status;
  const checksStopped = session.background.isStopped();
  return {
    ...rest,
    checksStopped,
    lines: checksStopped ? [...lines, STOPPED] : lines,
    ...(place ? { place: toLocation(texts, place) } : {}),
  };
}
