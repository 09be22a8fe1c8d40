import type { Connection, InitializeParams } from "vscode-languageserver";
import { LIST_FILES_REQUEST, READ_FILE_REQUEST } from "../protocol/requests.ts";
import type { FileId } from "../core/base/span.ts";
import { isAsset } from "../core/model/asset-kind.ts";
import { documentKind } from "../core/model/document-kind.ts";
import { createAnalyses, type Engine } from "./analyses.ts";
import { createBackground } from "./diagnostics/diagnostics-background.ts";
import { clientAbilities, foldersOf, readOptions } from "./client-abilities.ts";
import type { ClientFiles, MakePlatform } from "./platform.ts";
import { createMeshFiles } from "./files/mesh-files.ts";
import { createProgress } from "./diagnostics/progress.ts";
import { createScheduler } from "./scheduler.ts";
import { namesFrom } from "./service/names/written-names.ts";
import type { Session } from "./session.ts";
import { readSettings } from "./settings/settings.ts";
import { createSignal } from "./signal.ts";
import { createTexts } from "./files/texts.ts";
import { createWorkspaceFiles } from "./files/workspace-files.ts";

const isDocument = (file: FileId): boolean => documentKind(file) !== undefined;

/** Puts together what one connection works with. */
export function openSession(
  connection: Connection,
  params: InitializeParams,
  makePlatform: MakePlatform,
  engine: Engine,
  log: (line: string) => void,
): Session {
  const options = readOptions(params.initializationOptions);
  const client: ClientFiles = {
    canRead: options.readFile === true,
    canList: options.listFiles === true,
    readFile: (uri, as) => connection.sendRequest(READ_FILE_REQUEST, { uri, as }),
    listFiles: (cap, what) => connection.sendRequest(LIST_FILES_REQUEST, { cap, what }),
  };
  const platform = makePlatform(client, { folders: () => session.folders, files: () => texts.openFiles() });
  const texts = createTexts(platform.readFile);
  const scheduler = createScheduler(platform.beat);
  const analyses = createAnalyses(texts, engine, scheduler, (file, error) =>
    log(`${file} was set aside: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`),
  );
  const abilities = clientAbilities(params.capabilities, options);
  const files = createWorkspaceFiles((cap) => platform.listFiles(cap, "documents"), isDocument);
  const session: Session = {
    texts,
    analyses,
    names: namesFrom(texts, analyses.tree),
    meshes: createMeshFiles(texts, platform.readBytes),
    files,
    assets: createWorkspaceFiles((cap) => platform.listFiles(cap, "assets"), isAsset),
    findingsPage: options.findingsPage,
    background: createBackground({
      documents: files,
      analyses,
      startProgress: createProgress(connection, abilities.showsProgress, log, options.progressAfter),
      isOn: () => session.settings.checkWorkspace,
    }),
    client: abilities,
    changed: createSignal(),
    marks: () => undefined,
    folders: foldersOf(params),
    settings: readSettings(options.settings).settings,
    run: scheduler.run,
    log,
  };
  return session;
}
