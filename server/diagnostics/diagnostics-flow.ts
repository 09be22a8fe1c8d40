import {
  DiagnosticRefreshRequest,
  WorkspaceDiagnosticRequest,
  type Connection,
  type ProgressToken,
} from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import { CHECK_WORKSPACE_REQUEST } from "../../protocol/requests.ts";
import { checkWorkspace } from "./diagnostics-asked.ts";
import { pullDocument, pullWorkspace } from "./diagnostics-pull.ts";
import { createPusher } from "./diagnostics-push.ts";
import { fileOfUri } from "../files/file-uri.ts";
import { guarded } from "../guard.ts";
import type { Session } from "../session.ts";
import { debounced } from "../signal.ts";

/** Changes that come together (a branch is switched, many files are saved) cause one refresh [ms]. */
const REFRESH_MS = 60;
/** Documents that are not open are checked again when nothing changed for so long [ms]: while a person types, they rest. */
const CLOSED_MS = 250;

export interface DiagnosticsFlow {
  /** The client is ready to hear. */
  start(): void;
  /** `files` are all documents whose diagnostics may differ now. */
  textsChanged(files: readonly FileId[]): void;
  /** A document is not open any more. */
  closed(): void;
  /** The workspace has other documents now. */
  listChanged(): void;
  /** Settings or folders are others: any diagnostics may differ. */
  everythingChanged(): void;
}

/** Diagnostics are pulled by clients that can, pushed to the others, never both. */
export function registerDiagnostics(connection: Connection, session: Session): DiagnosticsFlow {
  const flow = session.client.pullsDiagnostics ? pulled(connection, session) : pushed(connection, session);
  connection.onRequest(CHECK_WORKSPACE_REQUEST, (params: { workDoneToken?: ProgressToken } | undefined, token) =>
    guarded("the check of the workspace", session.log, token, () => {
      session.background.wish();
      session.changed.fire();
      flow.listChanged();
      return checkWorkspace(session, token, params?.workDoneToken);
    }),
  );
  return flow;
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
  // Not by the library's own way, which keeps from a handler whether the client sent a token for the progress.
  connection.onRequest(WorkspaceDiagnosticRequest.type, (params, token) =>
    guarded("workspace diagnostics", session.log, token, () => {
      const previous = new Map(params.previousResultIds.map(({ uri, value }) => [fileOfUri(uri), value]));
      const { partialResultToken: parts, workDoneToken: progress } = params;
      if (parts === undefined) return pullWorkspace(session, { previous, token, progress });
      const give: Parameters<typeof pullWorkspace>[1]["give"] = (item) => {
        connection
          .sendProgress(WorkspaceDiagnosticRequest.partialResult, parts, { items: [item] })
          .catch((error: unknown) => session.log(`Telling of diagnostics failed: ${String(error)}`));
      };
      return pullWorkspace(session, { previous, token, progress, give });
    }),
  );
  return {
    // A client asks again by itself for the document it edits. Others that depend on it need the hint.
    textsChanged: (files) => void (files.length > 1 || !session.texts.isOpen(files[0]) ? refresh() : undefined),
    start: () => undefined,
    closed: () => undefined,
    listChanged: refresh,
    everythingChanged: refresh,
  };
}

function pushed(connection: Connection, session: Session): DiagnosticsFlow {
  const pusher = createPusher(session, (params) => {
    connection
      .sendDiagnostics(params)
      .catch((error: unknown) => session.log(`Sending diagnostics failed: ${String(error)}`));
  });
  const failed = (what: string) => (error: unknown) => session.log(`Diagnostics of ${what} failed: ${String(error)}`);
  const updateClosed = () => void pusher.updateClosed().catch(failed("the workspace"));
  const later = debounced(CLOSED_MS, updateClosed);
  const textsChanged = (files: readonly FileId[]) => {
    for (const file of files) if (session.texts.isOpen(file)) pusher.update(file).catch(failed(file));
    later();
  };
  return {
    start: later,
    listChanged: later,
    everythingChanged: () => textsChanged(session.texts.openFiles()),
    textsChanged,
    closed: updateClosed,
  };
}
