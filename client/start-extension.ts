import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { OPEN_STAGE_COMMAND, TAKE_CHANGED, type TakeChangedParams } from "../protocol/requests.ts";
import type { MovewrightApi } from "./api.ts";
import { answerFileRequests } from "./file-requests.ts";
import { registerLensCommands } from "./lens-commands.ts";
import { watchServer } from "./server-health.ts";
import type { Ask } from "./server-link.ts";
import { createStage, STAGE_VIEW } from "./stage.ts";
import { createStatusItem } from "./status.ts";

/** Everything that is the same in every kind of editor. The client stops the server when the extension is disposed. */
export function startExtension(context: vscode.ExtensionContext, client: BaseLanguageClient): MovewrightApi {
  const ready = client.start();
  const ask: Ask = async (method, params) => {
    await ready;
    return client.sendRequest(method, params);
  };
  const stage = createStage(context, ask);
  const health = watchServer(client);
  const status = createStatusItem(client, ask, health);
  context.subscriptions.push(
    { dispose: () => void client.dispose() },
    answerFileRequests(client),
    client.onNotification(TAKE_CHANGED, ({ uri }: TakeChangedParams) => stage.takeChanged(uri)),
    stage,
    registerLensCommands(stage, ask),
    health,
    status,
    vscode.window.registerWebviewPanelSerializer(STAGE_VIEW, stage),
    vscode.window.onDidChangeTextEditorSelection((event) => stage.cursorMoved(event.textEditor)),
    vscode.window.onDidChangeActiveTextEditor((editor) => editor && stage.cursorMoved(editor)),
    vscode.commands.registerCommand(OPEN_STAGE_COMMAND, (uri?: vscode.Uri | string) => stage.open(wantedUri(uri))),
    vscode.commands.registerCommand("movewright.restartServer", () => restart(client)),
  );
  return { ready, stageReport: () => stage.report(), statusReport: () => status.report() };
}

/** The move that is meant: given by a code lens or a title button, else the one in front. */
function wantedUri(uri: vscode.Uri | string | undefined): string | undefined {
  return uri?.toString() ?? vscode.window.activeTextEditor?.document.uri.toString();
}

async function restart(client: BaseLanguageClient): Promise<void> {
  if (client.needsStop()) await client.stop();
  await client.start();
}
