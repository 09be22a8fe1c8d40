import {
  CodeLensRefreshRequest,
  InlayHintRefreshRequest,
  SemanticTokensRefreshRequest,
  type Connection,
} from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import type { Session } from "./session.ts";
import { debounced } from "./signal.ts";

/** Changes that come together cause one refresh [ms]. */
const REFRESH_MS = 120;

export interface RefreshFlow {
  /** `files` are all documents of which code lenses, inlay hints and tokens may differ now, the edited ones first. */
  textsChanged(files: readonly FileId[]): void;
  settingsChanged(): void;
}

/** Tells clients that can be told to ask again for what is drawn in open documents that nobody edits: their rig changed. */
export function registerRefresh(connection: Connection, session: Session): RefreshFlow {
  const { client, log } = session;
  const types = [
    ...(client.refreshesLenses ? [CodeLensRefreshRequest.type] : []),
    ...(client.refreshesInlayHints ? [InlayHintRefreshRequest.type] : []),
    ...(client.refreshesTokens ? [SemanticTokensRefreshRequest.type] : []),
  ];
  const refresh = debounced(REFRESH_MS, () => {
    for (const type of types) {
      connection.sendRequest(type).catch((error: unknown) => log(`Refreshing failed: ${String(error)}`));
    }
  });
  return {
    // A client asks again by itself for the document it edits.
    textsChanged: (files) => void (files.length > 1 || !session.texts.isOpen(files[0]) ? refresh() : undefined),
    settingsChanged: refresh,
  };
}
