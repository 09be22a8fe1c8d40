import type { Connection } from "vscode-languageserver";
import { baseName } from "../core/base/path.ts";
import type { FileId } from "../core/base/span.ts";
import { findingsOf } from "../core/checks/analysis.ts";
import {
  GHOST_DROPPED,
  GHOST_REQUEST,
  MOVE_FILES_REQUEST,
  type GhostParams,
  type GhostResult,
  type MoveFilesParams,
  type MoveFilesResult,
} from "../protocol/stage-ghost.ts";
import { fileOfUri } from "./files/file-uri.ts";
import { guarded } from "./guard.ts";
import { openRevision, type RevisionWorkspace } from "./revision-workspace.ts";
import { stageProblem, stageTake } from "./service/stage/stage-take.ts";
import { solvedOf } from "./service/view.ts";
import type { Session } from "./session.ts";

/** Requests about a move as it stood at a revision. One revision is kept at a time: that of the comparison that is shown. */
export function registerGhost(connection: Connection, session: Session): void {
  const { log } = session;
  let kept: { readonly workspace: RevisionWorkspace; readonly of: string } | undefined;

  const workspaceOf = (of: string, revision: string): RevisionWorkspace => {
    // The texts of a revision are what they are for ever: what was read and solved of it serves again.
    if (kept?.of !== of || kept.workspace.revision !== revision) {
      kept = { of, workspace: openRevision(connection, session, { of, revision }) };
    }
    return kept.workspace;
  };

  connection.onRequest(GHOST_REQUEST, ({ uri, revision, label }: GhostParams, token) =>
    guarded("a move at a revision", log, token, () => {
      const workspace = workspaceOf(uri, revision);
      return ghostOf(session, workspace, uri, label, () => kept?.workspace === workspace).finally(() => {
        // What could not be had may be had at the next try.
        if (workspace.refusal() !== undefined && kept?.workspace === workspace) kept = undefined;
      });
    }),
  );
  connection.onNotification(GHOST_DROPPED, () => void (kept = undefined));
  connection.onRequest(MOVE_FILES_REQUEST, ({ uri }: MoveFilesParams, token) =>
    guarded("the files of a move", log, token, () => filesOf(session, uri)),
  );
}

async function ghostOf(
  session: Session,
  { analyses, texts, elsewhere, refusal }: RevisionWorkspace,
  uri: string,
  label: string,
  wanted: () => boolean,
): Promise<GhostResult> {
  const file = fileOfUri(uri);
  const name = baseName(file);
  const { analysis } = await analyses.whole(file, "asked");
  const state = texts.read(file).state;
  const refused = refusal();
  if (refused !== undefined) return { problem: `The files of ${label} can't be read. ${refused}` };
  if (elsewhere.has(file)) return { problem: `${name} is in no repository, so it has no older revision.` };
  if (state !== "text") {
    const why = "It was made, moved or renamed later. Choose a later revision, or compare with another move.";
    return { problem: `${name} is not there at ${label}. ${why}` };
  }
  const solved = solvedOf(analysis);
  if (!solved) return { problem: `At ${label}: ${stageProblem(uri, 0, findingsOf(analysis)).message}` };
  const outcome = await session.run(stageTake(uri, 0, solved, []), "asked", wanted);
  if (outcome.state === "failed") throw outcome.error;
  if (outcome.state === "dropped") return { problem: `${label} is not compared with any more.` };
  return { take: outcome.value, notes: [...elsewhere].map(elsewhereWords) };
}

const elsewhereWords = (file: FileId): string =>
  `${baseName(file)} is not in the repository of the move: it is taken as it is now.`;

async function filesOf(session: Session, uri: string): Promise<MoveFilesResult> {
  const file = fileOfUri(uri);
  const { analysis } = await session.analyses.whole(file, "shown");
  const others = analysis.inputs.filter((input) => input !== file).map((input) => session.texts.uri(input));
  return { uris: [uri, ...others] };
}
