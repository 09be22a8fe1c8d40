import { findingsOf } from "../core/checks/analysis.ts";
import type { Connection } from "vscode-languageserver";
import type { FileId } from "../core/base/span.ts";
import {
  KEY_AT_REQUEST,
  MESH_REQUEST,
  PLACE_OF_REQUEST,
  TAKE_CHANGED,
  TAKE_REQUEST,
  type KeyAtParams,
  type KeyAtResult,
  type MeshParams,
  type MeshResult,
  type PlaceOfParams,
  type PlaceOfResult,
  type TakeChangedParams,
  type TakeParams,
  type TakeResult,
} from "../protocol/requests.ts";
import { fileOfUri } from "./files/file-uri.ts";
import { fromSolved } from "./from-solved.ts";
import { toOffset } from "./from-lsp.ts";
import { registerGhost } from "./ghost-flow.ts";
import { guarded } from "./guard.ts";
import { registerOverlays } from "./overlay-flow.ts";
import { keyAtOffset, placeOfKey } from "./service/key-place.ts";
import { registerSeries } from "./series-flow.ts";
import { registerShape } from "./shape-flow.ts";
import { stageFiles } from "./service/stage/stage-meshes.ts";
import { stageProblem, stageTake } from "./service/stage/stage-take.ts";
import type { Session } from "./session.ts";
import { toLocation } from "./to-lsp.ts";
import { solvedAt } from "./views.ts";

export interface StageFlow {
  /** `files` are all documents whose take may differ now. */
  textsChanged(files: readonly FileId[]): void;
}

/** How long a question about keys waits for a move that is still being solved [ms]. */
const KEY_PATIENCE_MS = 1500;

/** The requests of the stage. A take request asks to be told once about the next change of that take. */
export function registerStage(connection: Connection, session: Session): StageFlow {
  const watched = new Map<FileId, string>();
  const { log } = session;

  connection.onRequest(TAKE_REQUEST, ({ uri }: TakeParams, token) =>
    guarded("the take", log, token, () => {
      watched.set(fileOfUri(uri), uri);
      return takeOf(session, uri);
    }),
  );
  connection.onRequest(MESH_REQUEST, (params: MeshParams, token) =>
    guarded("a mesh", log, token, () => meshPart(session, params)),
  );
  connection.onRequest(KEY_AT_REQUEST, (params: KeyAtParams, token) =>
    guarded("the key at a place", log, token, () => keyAt(session, params)),
  );
  connection.onRequest(PLACE_OF_REQUEST, (params: PlaceOfParams, token) =>
    guarded("the place of a key", log, token, () => placeOf(session, params)),
  );

  registerSeries(connection, session);

  registerOverlays(connection, session);

  registerGhost(connection, session);

  registerShape(connection, session);

  const tell = async (file: FileId, uri: string) => {
    await session.analyses.whole(file, "shown");
    const params: TakeChangedParams = { uri };
    await connection.sendNotification(TAKE_CHANGED, params);
  };

  return {
    textsChanged(files) {
      for (const file of files) {
        const uri = watched.get(file);
        if (uri === undefined) continue;
        watched.delete(file);
        tell(file, uri).catch((error: unknown) => log(`Telling of a new take failed: ${String(error)}`));
      }
    },
  };
}

function takeOf(session: Session, uri: string): Promise<TakeResult> {
  return fromSolved<TakeResult>(session, uri, {
    urgency: "shown",
    *make(version, solved, findings) {
      const files = stageFiles(solved.move).flatMap((each) => session.meshes.known(each) ?? []);
      return { take: yield* stageTake(uri, version, solved, findings, files) };
    },
    refuse: (_, version, findings) => ({ problem: stageProblem(uri, version, findings) }),
  });
}

/** Only what the take names is handed out, whoever asks. */
async function meshPart(session: Session, { uri, mesh }: MeshParams): Promise<MeshResult> {
  const solved = await solvedAt(session, fileOfUri(uri), 0);
  if (!solved || !stageFiles(solved.move).includes(mesh.file))
    return { ...mesh, problem: "It is no part of this move." };
  return session.meshes.read(mesh);
}

async function keyAt(session: Session, { uri, position }: KeyAtParams): Promise<KeyAtResult> {
  const file = fileOfUri(uri);
  const solved = await solvedAt(session, file, KEY_PATIENCE_MS);
  const document = session.texts.document(file);
  if (!solved || !document) return null;
  const key = keyAtOffset(solved, file, toOffset(document, position));
  return key === undefined ? null : { key, time: solved.move.keys[key].time };
}

async function placeOf(session: Session, params: PlaceOfParams): Promise<PlaceOfResult> {
  const file = fileOfUri(params.uri);
  const known = await session.analyses.whole(file, "shown");
  const solved = await solvedAt(session, file, 0);
  const place =
    "finding" in params ? findingsOf(known.analysis)[params.finding]?.place : solved && placeOfKey(solved, params.key);
  return place ? toLocation(session.texts, place) : null;
}
