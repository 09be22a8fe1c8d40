import * as vscode from "vscode";
import { readFromStage } from "../protocol/from-stage.ts";
import {
  KEY_AT_REQUEST,
  MESH_REQUEST,
  PLACE_OF_REQUEST,
  TAKE_REQUEST,
  type KeyAtParams,
  type KeyAtResult,
  type MeshParams,
  type MeshResult,
  type PlaceOfParams,
  type PlaceOfResult,
  type TakeParams,
  type TakeResult,
} from "../protocol/requests.ts";
import type { FromStage, StageState, ToStage } from "../protocol/stage.ts";
import { COMPARE_COMMANDS } from "../protocol/stage-ghost.ts";
import { SERIES_REQUEST, type SeriesParams, type SeriesResult } from "../protocol/stage-series.ts";
import { PASSES_REQUEST, type PassesResult } from "../protocol/stage-passes.ts";
import { REACH_REQUEST, type ReachResult } from "../protocol/stage-reach.ts";
import { createGhosts, type Ghosts } from "./ghosts.ts";
import { revealPlace } from "./reveal-place.ts";
import { createSaves } from "./save-file.ts";
import { savePlaces } from "./save-places.ts";
import type { Ask, Tell } from "./server-link.ts";
import { shapeMove } from "./stage-shape.ts";
import { createReports } from "./stage-reports.ts";
import { fillStagePanel, openStagePanel } from "./stage-panel.ts";

export const STAGE_VIEW = "movewright.stage";

/** The stage beside the text: one panel, which shows one move and follows it. */
export interface Stage extends vscode.Disposable, vscode.WebviewPanelSerializer {
  open(uri: string | undefined): void;
  /** Opens the stage of a move and plays from a time of it [s]. */
  playFrom(uri: string, time: number): void;
  takeChanged(uri: string): void;
  cursorMoved(editor: vscode.TextEditor): void;
  report(): Promise<StageState>;
  /** What the move on the stage is compared with. */
  readonly ghosts: Ghosts;
}

export function createStage(context: vscode.ExtensionContext, ask: Ask, tell: Tell): Stage {
  let panel: vscode.WebviewPanel | undefined;
  let shown: string | undefined;
  let asked = 0;
  /** Where to play from as soon as the page runs and has the take. */
  let wanted: { readonly uri: string; readonly time: number } | undefined;
  let runs = false;
  const post = (message: ToStage) => void panel?.webview.postMessage(message);
  const reports = createReports((id) => post({ type: "report", id }));
  const saves = createSaves(
    savePlaces(() => shown),
    post,
  );
  const ghosts = createGhosts(ask, tell, (message) => {
    post(message);
    void vscode.commands.executeCommand("setContext", "movewright.comparing", message.ghost !== null);
  });

  const sendTake = async () => {
    if (shown === undefined) return;
    const params: TakeParams = { uri: shown };
    const turn = (asked += 1);
    const answer = await ask<TakeResult>(TAKE_REQUEST, params);
    // Only the answer to the newest question is shown.
    if (turn !== asked) return;
    post({ type: "take", answer });
    if (!runs || wanted === undefined) return;
    if (wanted.uri === params.uri) post({ type: "play", time: wanted.time });
    wanted = undefined;
  };

  const reveal = async (params: PlaceOfParams) => {
    const place = await ask<PlaceOfResult>(PLACE_OF_REQUEST, params);
    if (place) await revealPlace(place);
  };

  const sendMesh = async (params: MeshParams) => {
    const silent: MeshResult = { ...params.mesh, problem: "It could not be had from the server." };
    const mesh = await ask<MeshResult>(MESH_REQUEST, params).catch(() => silent);
    if (params.uri === shown) post({ type: "mesh", mesh });
  };

  const sendSeries = async (params: SeriesParams, version: number) => {
    const silent: SeriesResult = { ...params, version, problem: "It could not be had from the server." };
    const series = await ask<SeriesResult>(SERIES_REQUEST, params).catch(() => silent);
    if (params.uri === shown) post({ type: "series", series });
  };

  const overlayTurns = { reach: 0, passes: 0 };
  const sendOverlay = async (uri: string, wanted: Extract<FromStage, { type: "reach" | "passes" }>) => {
    const turn = (overlayTurns[wanted.type] += 1);
    const message: ToStage =
      wanted.type === "reach"
        ? { type: "reach", reach: await ask<ReachResult>(REACH_REQUEST, { uri, ...wanted.wish }) }
        : { type: "passes", passes: await ask<PassesResult>(PASSES_REQUEST, { uri }) };
    // Only the answer to the newest question of its kind is shown.
    if (uri === shown && turn === overlayTurns[wanted.type]) post(message);
  };

  /** What the page of a move asks of the server. */
  const receiveOf = (uri: string, message: FromStage) => {
    if (message.type === "mesh") run(sendMesh({ uri, mesh: message.mesh }));
    else if (message.type === "reach" || message.type === "passes") run(sendOverlay(uri, message));
    else if (message.type === "series") run(sendSeries({ uri, name: message.name }, message.version));
    else if (message.type === "compare") void vscode.commands.executeCommand(COMPARE_COMMANDS[message.wish], uri);
    else if (message.type === "shape") run(shapeMove(ask, uri, message, (answer) => post({ type: "shape", answer })));
    else if (message.type === "reveal-key") run(reveal({ uri, key: message.key }));
    else if (message.type === "reveal-finding") run(reveal({ uri, finding: message.id }));
  };

  const receive = (message: FromStage) => {
    if (message.type === "ready") {
      runs = true;
      shown ??= message.uri;
      run(sendTake());
      ghosts.again();
    } else if (message.type === "save" || message.type === "save-part") saves.receive(message);
    else if (message.type === "state") reports.answer(message.id, message.state);
    else if (message.type === "failed") void vscode.window.showErrorMessage(`The stage: ${message.message}`);
    else if (shown !== undefined) receiveOf(shown, message);
  };

  const adopt = (given: vscode.WebviewPanel) => {
    panel = given;
    runs = false;
    fillStagePanel(given, context.extensionUri);
    saves.closed();
    given.webview.onDidReceiveMessage((raw: unknown) => {
      const message = readFromStage(raw);
      if (message) receive(message);
    });
    given.onDidChangeViewState(() => {
      // The editor lets go of a page that is hidden, and what is sent to it is lost.
      if (panel === given && !given.visible) runs = false;
    });
    given.onDidDispose(() => {
      if (panel === given) {
        panel = shown = wanted = undefined;
        ghosts.stop();
      }
      reports.closed();
      saves.closed();
    });
  };

  const open = (uri: string | undefined) => {
    if (uri === undefined) return;
    shown = uri;
    ghosts.shows(uri);
    if (panel) {
      panel.reveal(undefined, true);
      run(sendTake());
    } else adopt(openStagePanel(STAGE_VIEW, context.extensionUri));
  };

  return {
    open,
    playFrom(uri, time) {
      wanted = { uri, time };
      open(uri);
    },
    takeChanged(uri) {
      if (uri === shown && panel) run(sendTake());
      ghosts.takeChanged(uri);
    },
    cursorMoved(editor) {
      const { document, selection } = editor;
      if (!panel || document.uri.toString() !== shown) return;
      const { line, character } = selection.active;
      const params: KeyAtParams = { uri: shown, position: { line, character } };
      run(
        ask<KeyAtResult>(KEY_AT_REQUEST, params).then((at) => {
          if (at) post({ type: "playhead", time: at.time, key: at.key });
        }),
      );
    },
    report: () => (panel ? reports.ask() : Promise.reject(new Error("No stage is open."))),
    async deserializeWebviewPanel(given) {
      panel?.dispose();
      adopt(given);
    },
    dispose: () => panel?.dispose(),
    ghosts,
  };
}

/** A server that is being restarted answers nothing; the stage asks again when the take changes. */
function run(work: Promise<void>): void {
  work.catch((error: unknown) => console.warn(`Movewright's stage got no answer: ${String(error)}`));
}
