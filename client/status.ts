import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import {
  STATUS_CHANGED,
  STATUS_REQUEST,
  type MoveStatus,
  type StatusChangedParams,
  type StatusParams,
  type StatusResult,
} from "../protocol/status.ts";
import type { StatusReport } from "./api.ts";
import { revealPlace } from "./reveal-place.ts";
import type { Ask } from "./server-link.ts";
import { RESTART_SERVER_COMMAND, type ServerHealth } from "./server-health.ts";
import { statusLook, type StatusLook } from "./status-look.ts";

export const REVEAL_WORST_COMMAND = "movewright.revealWorst";
/** Names of facts that menus and the walkthrough may ask for. */
const HAS_ERRORS = "movewright.moveHasErrors";
const WAS_CURED = "movewright.moveWasCured";
const MOVE_NAME = /\.move\.(yaml|yml|json)$/i;
/** After an edit the status is asked for once the typing rests so long [ms]. */
const REST_MS = 300;

/** The status bar item of the move in front. */
export interface StatusItem extends vscode.Disposable {
  /** The move that is in front, or was last: a page in front of it, such as the walkthrough, has no text. */
  lastMove(): string | undefined;
  report(): StatusReport;
}

export function createStatusItem(client: BaseLanguageClient, ask: Ask, health: ServerHealth): StatusItem {
  const item = vscode.window.createStatusBarItem("movewright.move", vscode.StatusBarAlignment.Left, 0);
  item.name = "Movewright: Limits of the Move";
  let uri: string | undefined;
  let last: string | undefined;
  let status: MoveStatus | undefined;
  let look: StatusLook | undefined;
  let asked = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const faulty = new Set<string>();

  const draw = () => {
    if (uri === undefined) return item.hide();
    look = statusLook(health.state(), status);
    item.text = look.text;
    item.tooltip = look.tooltip;
    item.accessibilityInformation = { label: look.spoken, role: "button" };
    item.backgroundColor = look.alert ? new vscode.ThemeColor(`statusBarItem.${look.alert}Background`) : undefined;
    item.command = health.state() === "stopped" ? RESTART_SERVER_COMMAND : REVEAL_WORST_COMMAND;
    item.show();
  };

  const refresh = async () => {
    const about = uri;
    if (about === undefined) return draw();
    const turn = (asked += 1);
    const params: StatusParams = { uri: about };
    const answer = await ask<StatusResult>(STATUS_REQUEST, params).catch(() => undefined);
    // A server that is being restarted answers nothing; once it runs it is asked again.
    if (turn !== asked || about !== uri || answer === undefined) return;
    status = answer ?? undefined;
    draw();
    if (status?.state === "solved") noteErrors(about, status.errors);
  };

  const noteErrors = (about: string, errors: number) => {
    void vscode.commands.executeCommand("setContext", HAS_ERRORS, errors > 0);
    if (errors > 0) faulty.add(about);
    else if (faulty.delete(about)) void vscode.commands.executeCommand("setContext", WAS_CURED, true);
  };

  const follow = (editor: vscode.TextEditor | undefined) => {
    const document = editor?.document;
    // The stage in front of the move takes the focus from its text, and the move is still the one in front.
    if (!document && vscode.window.visibleTextEditors.some((each) => each.document.uri.toString() === uri)) return;
    const next = document && MOVE_NAME.test(document.uri.path) ? document.uri.toString() : undefined;
    if (next === uri) return;
    uri = next;
    last = next ?? last;
    status = undefined;
    draw();
    void refresh();
  };

  const reveal = async () => {
    if (last === undefined) return void vscode.window.showInformationMessage("Open a move first.");
    const params: StatusParams = { uri: last };
    const now = last === uri && status ? status : await ask<StatusResult>(STATUS_REQUEST, params);
    if (now?.place) return revealPlace(now.place);
    void vscode.window.showInformationMessage("This move states no limit and has no error to go to.");
  };

  const parts = vscode.Disposable.from(
    item,
    client.onNotification(STATUS_CHANGED, (params: StatusChangedParams) => {
      if (params.uri === uri) void refresh();
    }),
    health.onChange(() => {
      draw();
      if (health.state() === "running") void refresh();
    }),
    vscode.window.onDidChangeActiveTextEditor(follow),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (document.uri.toString() !== uri) return;
      if (timer !== undefined) clearTimeout(timer);
      timer = setTimeout(() => void refresh(), REST_MS);
    }),
    vscode.commands.registerCommand(REVEAL_WORST_COMMAND, reveal),
  );
  follow(vscode.window.activeTextEditor);
  return {
    lastMove: () => last,
    report: () => ({ uri, text: look?.text ?? "", spoken: look?.spoken ?? "", tooltip: look?.tooltip ?? "", status }),
    dispose() {
      if (timer !== undefined) clearTimeout(timer);
      parts.dispose();
    },
  };
}
