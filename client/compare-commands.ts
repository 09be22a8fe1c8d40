import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMPARE_HEAD_COMMAND } from "../protocol/review.ts";
import {
  COMPARE_MOVE_COMMAND,
  COMPARE_REVISION_COMMAND,
  READ_REVISION_REQUEST,
  STOP_COMPARING_COMMAND,
  type GhostWith,
  type ReadRevisionParams,
  type ReadRevisionResult,
} from "../protocol/stage-ghost.ts";
import { documentTitle } from "./document-title.ts";
import { openDiff } from "./open-diff.ts";
import { pickRevision } from "./pick-revision.ts";
import { repositoryOf } from "./repository-of.ts";
import { readRevision } from "./revision-files.ts";
import type { Ask } from "./server-link.ts";
import type { Stage } from "./stage.ts";

const MOVES = "**/*.move.{yaml,yml,json}";
/** Most moves that are offered. */
const OFFERED = 500;

/**
 * Commands that set a move on the stage against another one, and the files of revisions for the server.
 *
 * @param lastMove Uri of the move that was in front last.
 */
export function registerCompareCommands(
  client: BaseLanguageClient,
  stage: Stage,
  ask: Ask,
  lastMove: () => string | undefined,
): vscode.Disposable {
  const moveOf = (given: vscode.Uri | string | undefined): string | undefined => {
    const front = frontUri();
    const uri = given?.toString() ?? (front && isMove(front) ? front.toString() : lastMove());
    if (uri === undefined) void vscode.window.showInformationMessage("Open a move first.");
    return uri;
  };
  /** Commands answer with what they say, for whoever calls them. */
  const say = (problem: string): string => {
    void vscode.window.showWarningMessage(problem);
    return problem;
  };
  const compare = async (uri: string, ghost: GhostWith | undefined): Promise<string | undefined> => {
    if (!ghost) return undefined;
    stage.open(uri);
    const problem = await stage.ghosts.compare(uri, ghost);
    return problem === undefined ? undefined : say(problem);
  };
  const withRevision = async (given: vscode.Uri | string | undefined, name?: string): Promise<string | undefined> => {
    const uri = moveOf(given);
    if (uri === undefined) return undefined;
    const found = await pickRevision(ask, uri, name);
    if (!found) return undefined;
    if ("problem" in found) return say(found.problem);
    const { revision, label } = found;
    const now = vscode.Uri.parse(uri);
    await openDiff({ was: now, now, revision, label });
    return compare(uri, { kind: "revision", revision, label });
  };
  return vscode.Disposable.from(
    vscode.commands.registerCommand(COMPARE_REVISION_COMMAND, (given?: vscode.Uri | string, name?: unknown) =>
      withRevision(given, typeof name === "string" ? name : undefined),
    ),
    vscode.commands.registerCommand(COMPARE_HEAD_COMMAND, (given?: vscode.Uri | string) => withRevision(given, "HEAD")),
    vscode.commands.registerCommand(COMPARE_MOVE_COMMAND, async (given?: vscode.Uri | string, other?: unknown) => {
      const uri = moveOf(given);
      if (uri === undefined) return undefined;
      return compare(uri, typeof other === "string" ? { kind: "move", uri: other } : await pickMove(uri));
    }),
    vscode.commands.registerCommand(STOP_COMPARING_COMMAND, () => stage.ghosts.stop()),
    client.onRequest(READ_REVISION_REQUEST, (params: ReadRevisionParams) => fileOfRevision(params)),
  );
}

/** The document in front; in a comparison's older text, the one that it was. */
function frontUri(): vscode.Uri | undefined {
  const front = vscode.window.activeTextEditor?.document.uri;
  return front?.scheme === "git" ? front.with({ scheme: "file", query: "" }) : front;
}

const isMove = ({ path }: vscode.Uri): boolean => /\.move\.(yaml|yml|json)$/.test(path);

async function pickMove(uri: string): Promise<GhostWith | undefined> {
  const found = await vscode.workspace.findFiles(MOVES, "**/node_modules/**", OFFERED);
  const items = found
    .map((one) => one.toString())
    .filter((one) => one !== uri)
    .map((one) => ({
      label: documentTitle(one),
      description: vscode.workspace.asRelativePath(vscode.Uri.parse(one)),
      uri: one,
    }))
    .sort((a, b) => (a.description < b.description ? -1 : 1));
  if (items.length === 0) {
    void vscode.window.showInformationMessage("There is no other move in the open folders to compare with.");
    return undefined;
  }
  const title = `Compare ${documentTitle(uri)} with another move`;
  const chosen = await vscode.window.showQuickPick(items, { title, matchOnDescription: true });
  return chosen && { kind: "move", uri: chosen.uri };
}

async function fileOfRevision({ of, revision, uri, as }: ReadRevisionParams): Promise<ReadRevisionResult> {
  const file = vscode.Uri.parse(uri);
  const [repository, home] = [await repositoryOf(vscode.Uri.parse(of)), await repositoryOf(file)];
  if ("problem" in repository) throw new Error(repository.problem);
  if ("problem" in home || home.rootUri.fsPath !== repository.rootUri.fsPath) return { state: "elsewhere" };
  return readRevision(repository, revision, file.fsPath, as);
}
