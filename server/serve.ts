import {
  DidChangeWatchedFilesNotification,
  FileChangeType,
  type Connection,
  type InitializeParams,
} from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import { DOCUMENT_GLOB, PROGRAM_NAME } from "../protocol/requests.ts";
import { serverCapabilities } from "./capabilities.ts";
import { folderOf } from "./client-abilities.ts";
import { registerDiagnostics, type DiagnosticsFlow } from "./diagnostics/diagnostics-flow.ts";
import type { Engine } from "./analyses.ts";
import { registerFeatures } from "./features.ts";
import { fileOfUri } from "./files/file-uri.ts";
import { openSession } from "./open-session.ts";
import type { MakePlatform } from "./platform.ts";
import { registerRefresh, type RefreshFlow } from "./refresh-flow.ts";
import { registerReview, type ReviewFlow } from "./review/review-flow.ts";
import { PROGRAM_VERSION, type Session } from "./session.ts";
import { registerSettings, type SettingsFlow } from "./settings/settings-flow.ts";
import { registerStage, type StageFlow } from "./stage-flow.ts";
import { registerStatus, type StatusFlow } from "./status-flow.ts";

/** Files whose changes on disk matter: our documents, the arms in URDF that rigs name, meshes with what they name, and plates. */
const WATCHED = [
  DOCUMENT_GLOB,
  "**/*.{urdf,URDF}",
  "**/*.{stl,STL,obj,OBJ,gltf,GLTF,glb,GLB,bin}",
  "**/*.{png,PNG,jpg,JPG,jpeg,JPEG,webp,WEBP}",
];

/** Lets go of a document that was closed and is none of the workspace's: one after the other they would fill the memory. */
async function forgetClosed({ files, texts, analyses }: Session, file: FileId): Promise<void> {
  const listed = await files.all();
  if (!texts.isOpen(file) && !listed.includes(file)) analyses.forget(file);
}

/** Wires one connection: the same on Node and in a web worker. */
export function serve(connection: Connection, makePlatform: MakePlatform, engine: Engine): void {
  let session: Session | undefined;
  let diagnostics: DiagnosticsFlow | undefined;
  let refresh: RefreshFlow | undefined;
  let stage: StageFlow | undefined;
  let status: StatusFlow | undefined;
  let settings: SettingsFlow | undefined;
  let review: ReviewFlow | undefined;
  const log = (line: string) => connection.console.error(line);
  /** A client that can't do what it said it can goes without. */
  const refused = (error: unknown) => log(`The client refused: ${String(error)}`);

  connection.onInitialize((params: InitializeParams) => {
    session = openSession(connection, params, makePlatform, engine, log);
    diagnostics = registerDiagnostics(connection, session);
    refresh = registerRefresh(connection, session);
    stage = registerStage(connection, session);
    status = registerStatus(connection, session);
    registerFeatures(connection, session);
    review = registerReview(connection, session, () => {
      session?.changed.fire();
      diagnostics?.everythingChanged();
    });
    settings = registerSettings(connection, session, params.initializationOptions?.settings, () => {
      session?.background.settingsChanged();
      everythingChanged();
    });
    return {
      capabilities: serverCapabilities(session.client),
      serverInfo: { name: PROGRAM_NAME, version: PROGRAM_VERSION },
    };
  });

  connection.onInitialized(() => {
    if (!session) return;
    if (session.client.watchesFiles) {
      const watchers = WATCHED.map((globPattern) => ({ globPattern }));
      connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }).catch(refused);
    }
    settings?.start();
    diagnostics?.start();
    if (session.client.tellsFolders) {
      connection.workspace.onDidChangeWorkspaceFolders((event) => {
        if (!session) return;
        const removed = event.removed.map((folder) => folderOf(folder.uri));
        const added = event.added.map((folder) => folderOf(folder.uri));
        session.folders = [...session.folders.filter((folder) => !removed.includes(folder)), ...added];
        session.files.reset();
        session.assets.reset();
        // What may be read depends on the folders.
        void session.texts.reload().then((changed) => {
          session?.background.changed([]);
          everythingChanged();
          textsChanged(changed);
        });
      });
    }
  });

  const everythingChanged = () => {
    if (!session) return;
    session.changed.fire();
    diagnostics?.everythingChanged();
    refresh?.settingsChanged();
    review?.textsChanged();
  };

  /** Whatever made these texts another: all that was made from them is made again. */
  const textsChanged = (files: readonly string[]) => {
    if (!session || files.length === 0) return;
    const changed = [...files, ...session.meshes.owners(files)];
    const dependents = [...new Set([...changed, ...session.analyses.dependents(changed)])];
    session.background.changed(dependents);
    session.changed.fire();
    diagnostics?.textsChanged(dependents);
    refresh?.textsChanged(dependents);
    stage?.textsChanged(dependents);
    status?.textsChanged(dependents);
    review?.textsChanged();
  };

  /** No text that is known is another one, but there may be documents that nobody looked at. */
  const listChanged = (cameOrWent: boolean) => {
    session?.background.changed([]);
    session?.changed.fire();
    if (cameOrWent) diagnostics?.listChanged();
    review?.textsChanged();
  };

  /** For clients that watch no files: whatever changed on the disk since. */
  const lookAgain = () => {
    if (!session || session.client.watchesFiles) return;
    session.files.reset();
    session.assets.reset();
    void session.texts.reload().then(textsChanged);
  };

  connection.onDidOpenTextDocument(({ textDocument: { uri, version, text } }) => {
    if (!session) return;
    textsChanged([session.texts.open(uri, version, text)]);
    lookAgain();
  });
  connection.onDidSaveTextDocument(lookAgain);
  connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) => {
    const file = session?.texts.change(uri, version, contentChanges);
    if (file !== undefined) textsChanged([file]);
  });
  connection.onDidCloseTextDocument(({ textDocument: { uri } }) => {
    if (!session) return;
    const file = session.texts.close(uri);
    textsChanged([file]);
    diagnostics?.closed();
    void forgetClosed(session, file);
  });
  connection.onDidChangeWatchedFiles(({ changes }) => {
    const files = changes.map(({ uri }) => fileOfUri(uri));
    changes.forEach(({ type }, idx) => {
      for (const known of session ? [session.files, session.assets] : []) {
        if (type === FileChangeType.Created) known.appeared(files[idx]);
        if (type === FileChangeType.Deleted) known.vanished(files[idx]);
      }
    });
    void session?.texts.reload(files).then((changed) => {
      if (changed.length > 0) textsChanged(changed);
      else listChanged(changes.some(({ type }) => type !== FileChangeType.Changed));
    });
  });
  connection.listen();
}
