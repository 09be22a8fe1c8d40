import * as vscode from "vscode";
import { State, type BaseLanguageClient } from "vscode-languageclient";
import { DOCUMENT_GLOB } from "../protocol/requests.ts";

export const RESTART_SERVER_COMMAND = "movewright.restartServer";

export type ServerState = "starting" | "running" | "stopped";

/** Whether the server runs, shown beside the language of our documents with a way to restart it. */
export interface ServerHealth extends vscode.Disposable {
  state(): ServerState;
  /** Another state, or the end of long work. */
  readonly onChange: vscode.Event<void>;
}

const STATES: Readonly<Record<State, ServerState>> = {
  [State.Starting]: "starting",
  [State.Running]: "running",
  [State.Stopped]: "stopped",
};
const WORDS: Readonly<Record<ServerState, string>> = {
  starting: "Movewright server starting",
  running: "Movewright server running",
  stopped: "Movewright server not running",
};

export function watchServer(client: BaseLanguageClient): ServerHealth {
  const changed = new vscode.EventEmitter<void>();
  const item = vscode.languages.createLanguageStatusItem("movewright.server", { pattern: DOCUMENT_GLOB });
  item.name = "Movewright Server";
  // The client begins to start before anybody can listen.
  let state: ServerState = client.state === State.Running ? "running" : "starting";
  const draw = () => {
    const words = WORDS[state];
    item.text = words;
    item.busy = state === "starting";
    item.severity =
      state === "stopped" ? vscode.LanguageStatusSeverity.Error : vscode.LanguageStatusSeverity.Information;
    item.accessibilityInformation = { label: words };
    item.command = { title: "Restart Server", command: RESTART_SERVER_COMMAND };
  };
  draw();
  // What a progress was about has come to an end, or a person stopped it.
  client.middleware.handleWorkDoneProgress = (token, params, next) => {
    next(token, params);
    if (params.kind === "end") changed.fire();
  };
  const listening = client.onDidChangeState(({ newState }) => {
    state = STATES[newState];
    draw();
    changed.fire();
  });
  return {
    state: () => state,
    onChange: changed.event,
    dispose: () => vscode.Disposable.from(item, listening, changed).dispose(),
  };
}
