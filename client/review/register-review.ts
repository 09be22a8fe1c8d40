import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import {
  CHANGED_MOVES_VIEW,
  CHOOSE_BASE_COMMAND,
  REFRESH_REVIEW_COMMAND,
  REVIEW_CHANGED,
  SHOW_CHANGE_COMMAND,
} from "../../protocol/review.ts";
import type { ReviewReport } from "../api.ts";
import type { Ask } from "../server-link.ts";
import type { ServerHealth } from "../server-health.ts";
import type { Stage } from "../stage.ts";
import { createChangedMoves, type ReviewNode } from "./changed-moves.ts";
import { chooseBase, chosenBases } from "./choose-base.ts";
import { createFolderReviews, type FolderReview } from "./folder-reviews.ts";
import { registerReviewHover } from "./review-hover.ts";
import { progressWords, rowOf } from "./review-rows.ts";
import { showChange } from "./show-change.ts";

/** Names of facts that the view's own conditions ask for. */
const HAS_MOVES = "movewright.hasMoves";
const NOTHING_CHANGED = "movewright.nothingChanged";
const MOVES = "**/*.move.{yaml,yml,json}";
const MOVE_NAME = /\.move\.(yaml|yml|json)$/;
/** Changes that come together, an edit's and those of saving it, are asked about once [ms]. */
const REST_MS = 400;

/** The view of changed moves. */
export interface ReviewView extends vscode.Disposable {
  report(): ReviewReport;
}

export function registerReview(
  context: vscode.ExtensionContext,
  client: BaseLanguageClient,
  ask: Ask,
  stage: Stage,
  { health, ready }: { readonly health: ServerHealth; readonly ready: Promise<void> },
): ReviewView {
  const bases = chosenBases(context.workspaceState);
  let timer: ReturnType<typeof setTimeout> | undefined;
  let again = true;
  const later = (looksAgain: boolean) => {
    again ||= looksAgain;
    if (timer !== undefined) clearTimeout(timer);
    timer = setTimeout(() => void refresh(), REST_MS);
  };
  const reviews = createFolderReviews({
    client,
    ask,
    chosen: (folder) => bases.of(folder),
    isWanted: (folder) => view.visible || bases.of(folder) !== undefined,
    gitChanged: () => later(true),
  });
  const moves = createChangedMoves(reviews.all);
  const view = vscode.window.createTreeView<ReviewNode>(CHANGED_MOVES_VIEW, {
    treeDataProvider: moves,
    showCollapseAll: true,
  });

  const draw = () => {
    const all = reviews.all();
    view.description = all.length === 1 ? aboutOf(all[0]) : undefined;
    const results = all.flatMap(({ result }) => result ?? []);
    view.message = progressWords(results);
    const isNothing = results.length > 0 && all.every((each) => isUnchanged(each));
    void vscode.commands.executeCommand("setContext", NOTHING_CHANGED, isNothing);
    moves.changed();
  };
  const once = async () => {
    const looksAgain = again;
    again = false;
    // A server that is being restarted answers nothing; once it runs it is asked again.
    await reviews.refresh(looksAgain).catch(() => undefined);
    draw();
  };
  let last = Promise.resolve();
  const refresh = (): Promise<void> => (last = last.then(once));
  /** With the bar that the editor draws above a view that is busy. */
  const refreshShown = () => vscode.window.withProgress({ location: { viewId: CHANGED_MOVES_VIEW } }, refresh);

  const choose = async (given: unknown, name: unknown): Promise<string | undefined> => {
    const folder = await folderOf(given);
    if (!folder) return undefined;
    const problem = await chooseBase(bases, folder, typeof name === "string" ? name : undefined);
    if (problem !== undefined) void vscode.window.showWarningMessage(problem);
    again = true;
    await refreshShown();
    return problem;
  };

  const parts = vscode.Disposable.from(
    view,
    reviews,
    client.onNotification(REVIEW_CHANGED, () => later(false)),
    view.onDidChangeVisibility(({ visible }) => visible && void refreshShown()),
    vscode.workspace.onDidChangeWorkspaceFolders(() => later(true)),
    vscode.workspace.onDidOpenTextDocument(({ uri }) => MOVE_NAME.test(uri.path) && hasMoves()),
    health.onChange(() => health.state() === "running" && later(false)),
    vscode.commands.registerCommand(CHOOSE_BASE_COMMAND, choose),
    vscode.commands.registerCommand(REFRESH_REVIEW_COMMAND, () => {
      again = true;
      return refreshShown();
    }),
    vscode.commands.registerCommand(SHOW_CHANGE_COMMAND, (node?: ReviewNode) => node && showChange(stage, node)),
  );
  // What is told first is what was registered last: in a comparison, that is what differs, and then what is.
  const hovers = ready.then(() => registerReviewHover(ask, (uri) => reviews.of(uri)));
  void noteMoves();
  if ((vscode.workspace.workspaceFolders ?? []).some(({ uri }) => bases.of(uri) !== undefined)) later(true);
  return {
    report: () => ({
      description: view.description,
      message: view.message,
      rows: reviews.all().flatMap(({ result }) => (result?.moves ?? []).map(rowOf)),
      problems: reviews
        .all()
        .flatMap(({ found, result }) => ("problem" in found ? found.problem : (result?.problem ?? []))),
    }),
    dispose() {
      if (timer !== undefined) clearTimeout(timer);
      parts.dispose();
      void hovers.then((hover) => hover.dispose());
    },
  };
}

/** The view is there where there are moves, and not in every folder that the editor opens. */
async function noteMoves(): Promise<void> {
  const [found] = await vscode.workspace.findFiles(MOVES, "**/node_modules/**", 1);
  if (found) hasMoves();
}

const hasMoves = (): void => void vscode.commands.executeCommand("setContext", HAS_MOVES, true);

async function folderOf(given: unknown): Promise<vscode.Uri | undefined> {
  const folders = vscode.workspace.workspaceFolders ?? [];
  if (given instanceof vscode.Uri) return given;
  if (folders.length > 1) return (await vscode.window.showWorkspaceFolderPick())?.uri;
  if (folders.length === 0)
    void vscode.window.showInformationMessage("Open a folder first: a base is chosen for a folder.");
  return folders[0]?.uri;
}

const aboutOf = ({ found }: FolderReview): string | undefined =>
  "about" in found ? `against ${found.about}` : undefined;

const isUnchanged = ({ found, result }: FolderReview): boolean =>
  !("problem" in found) &&
  result !== undefined &&
  result.problem === undefined &&
  result.left === 0 &&
  result.moves.length === 0;
