import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { OPEN_STAGE_COMMAND, TAKE_CHANGED, type TakeChangedParams } from "../protocol/requests.ts";
import type { MovewrightApi } from "./api.ts";
import { CHECK_WORKSPACE_COMMAND, checkWorkspace } from "./check-workspace.ts";
import { registerCompareCommands } from "./compare-commands.ts";
import { registerEditCommands } from "./edit-commands.ts";
import { answerFileRequests } from "./file-requests.ts";
import { registerLensCommands } from "./lens-commands.ts";
import { NEW_DOCUMENT_COMMAND, newDocument, readArguments } from "./new-document.ts";
import { registerReview } from "./review/register-review.ts";
import { OPEN_SAMPLE_COMMAND, openSample } from "./sample.ts";
import { RESTART_SERVER_COMMAND, watchServer } from "./server-health.ts";
import type { Ask, Tell } from "./server-link.ts";
import { createStage, STAGE_VIEW, type Stage } from "./stage.ts";
import { createStatusItem } from "./status.ts";

/** Everything that is the same in every kind of editor. The client stops the server when the extension is disposed. */
export function startExtension(context: vscode.ExtensionContext, client: BaseLanguageClient): MovewrightApi {
  const ready = client.start();
  const ask: Ask = async (method, params) => {
    await ready;
    return client.sendRequest(method, params);
  };
  const tell: Tell = (method) => {
    client
      .sendNotification(method)
      .catch((error: unknown) => console.warn(`Movewright's server was not told: ${String(error)}`));
  };
  const stage = createStage(context, ask, tell);
  const health = watchServer(client);
  const status = createStatusItem(client, ask, health);
  const review = registerReview(context, client, ask, stage, { health, ready });
  context.subscriptions.push(
    { dispose: () => void client.dispose() },
    answerFileRequests(client),
    client.onNotification(TAKE_CHANGED, ({ uri }: TakeChangedParams) => stage.takeChanged(uri)),
    stage,
    registerLensCommands(stage, ask),
    registerEditCommands(stage, ask),
    registerCompareCommands(client, stage, ask, () => status.lastMove()),
    health,
    status,
    review,
    vscode.window.registerWebviewPanelSerializer(STAGE_VIEW, stage),
    vscode.window.onDidChangeTextEditorSelection((event) => stage.cursorMoved(event.textEditor)),
    vscode.window.onDidChangeActiveTextEditor((editor) => editor && stage.cursorMoved(editor)),
    vscode.commands.registerCommand(OPEN_STAGE_COMMAND, (uri?: vscode.Uri | string) =>
      openStage(stage, uri, status.lastMove()),
    ),
    vscode.commands.registerCommand(RESTART_SERVER_COMMAND, () => restart(client)),
    vscode.commands.registerCommand(CHECK_WORKSPACE_COMMAND, () => checkWorkspace(ask)),
    vscode.commands.registerCommand(NEW_DOCUMENT_COMMAND, async (first?: unknown) =>
      newDocument(ask, await readArguments(first)),
    ),
    vscode.commands.registerCommand(OPEN_SAMPLE_COMMAND, (parent?: vscode.Uri) =>
      openSample(context.extensionUri, parent),
    ),
  );
  return {
    ready,
    stageReport: () => stage.report(),
    statusReport: () => status.report(),
    reviewReport: () => review.report(),
  };
}

/** The move that is meant: given by a code lens or a title button, else the one in front, else the one that was. */
function openStage(stage: Stage, given: vscode.Uri | string | undefined, last: string | undefined): void {
  const uri = given?.toString() ?? vscode.window.activeTextEditor?.document.uri.toString() ?? last;
  if (uri === undefined) void vscode.window.showInformationMessage("Open a move first.");
  else stage.open(uri);
}

async function restart(client: BaseLanguageClient): Promise<void> {
  if (client.needsStop()) await client.stop();
  await client.start();
}
