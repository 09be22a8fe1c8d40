import { DiagnosticRefreshRequest, type Connection } from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import { pullDocument, pullWorkspace } from "./diagnostics-pull.ts";
import { createPusher } from "./diagnostics-push.ts";
import { fileOfUri } from "./file-uri.ts";
import { guarded } from "./guard.ts";
import type { Session } from "./session.ts";
import { debounced } from "./signal.ts";

/** Changes that come together (a branch is switched, many files are saved) cause one refresh [ms]. */
const REFRESH_MS = 60;

export interface DiagnosticsFlow {
  /** `files` are all documents whose diagnostics may differ now. */
  textsChanged(files: readonly FileId[]): void;
  closed(file: FileId, uri: string): void;
}

/** Diagnostics are pulled by clients that can, pushed to the others, never both. */
export function registerDiagnostics(connection: Connection, session: Session): DiagnosticsFlow {
  return session.client.pullsDiagnostics ? pulled(connection, session) : pushed(connection, session);
}

function pulled(connection: Connection, session: Session): DiagnosticsFlow {
  const { languages } = connection;
  const refresh = debounced(REFRESH_MS, () => {
    connection
      .sendRequest(DiagnosticRefreshRequest.type)
      .catch((error: unknown) => session.log(`Refreshing failed: ${String(error)}`));
  });
  languages.diagnostics.on((params, token) =>
    guarded("diagnostics", session.log, token, () =>
      pullDocument(session, params.textDocument.uri, params.previousResultId, refresh),
    ),
  );
  languages.diagnostics.onWorkspace((params, token, _progress, partial) =>
    guarded("workspace diagnostics", session.log, token, () => {
      const previous = new Map(params.previousResultIds.map(({ uri, value }) => [fileOfUri(uri), value]));
      const give =
        partial && ((item: Parameters<typeof partial.report>[0]["items"][number]) => partial.report({ items: [item] }));
      return pullWorkspace(session, previous, token, give || undefined);
    }),
  );
  return {
    // A client asks again by itself for the document it edits. Others that depend on it need the hint.
    textsChanged: (files) => void (files.length > 1 || !session.texts.isOpen(files[0]) ? refresh() : undefined),
    closed: () => undefined,
  };
}

function pushed(connection: Connection, session: Session): DiagnosticsFlow {
  const pusher = createPusher(session, (params) => void connection.sendDiagnostics(params));
  const update = (file: FileId) => {
    pusher.update(file).catch((error: unknown) => session.log(`Diagnostics of ${file} failed: ${String(error)}`));
  };
  return {
    textsChanged: (files) => files.filter((file) => session.texts.isOpen(file)).forEach(update),
    closed: (file, uri) => pusher.clear(file, uri),
  };
}
