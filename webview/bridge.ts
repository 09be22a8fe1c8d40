import { isRecord } from "../core/base/is-record.ts";
import type { FromStage, ToStage } from "../protocol/stage.ts";
import { isSaveToStage } from "./save/hand-over.ts";
import { SERIES, type SeriesName } from "../protocol/stage-series.ts";

/** What the editor gives a page of its own. It can be asked for once, and stays in this file. */
interface EditorApi {
  postMessage(message: unknown): void;
  getState(): unknown;
  setState(state: unknown): void;
}

declare const acquireVsCodeApi: () => EditorApi;

export interface Bridge {
  /** Whether what is shaped by hand can be written into the text. */
  readonly writes: boolean;
  send(message: FromStage): void;
  /** Calls `take` with each message that has the shape of one of ours; others are ignored. */
  listen(take: (message: ToStage) => void): void;
  /** What `keep` was last given before the page was closed or hidden; anything, to be checked. */
  kept(): unknown;
  keep(state: unknown): void;
  /** Where there is no editor to save a file: gives it to the browser. */
  download?(name: string, content: Blob): void;
}

export function openBridge(): Bridge {
  const editor = acquireVsCodeApi();
  return {
    writes: true,
    send: (message) => editor.postMessage(message),
    listen: (take) =>
      window.addEventListener("message", (event: MessageEvent<unknown>) => {
        if (isToStage(event.data)) take(event.data);
      }),
    kept: () => editor.getState(),
    keep: (state) => editor.setState(state),
  };
}

export function isToStage(data: unknown): data is ToStage {
  if (!isRecord(data)) return false;
  if (data.type === "report") return Number.isInteger(data.id);
  if (data.type === "playhead") return Number.isFinite(data.time) && Number.isInteger(data.key);
  if (data.type === "play") return Number.isFinite(data.time);
  if (data.type === "mesh") return isRecord(data.mesh) && typeof data.mesh.file === "string";
  if (data.type === "shape") return isShaped(data.answer);
  if (data.type === "ghost") return data.ghost === null || isGhost(data.ghost);
  if (data.type === "save-next" || data.type === "saved") return isSaveToStage(data);
  if (data.type === "reach") return isOverlay(data.reach, "triangles") && isRecord(data.reach.wish);
  if (data.type === "passes") return isOverlay(data.passes, "passes");
  if (data.type === "series") return isSeries(data.series);
  if (data.type !== "take" || !isRecord(data.answer)) return false;
  const { take, problem } = data.answer;
  return isAnswer(take) || isAnswer(problem);
}

function isOverlay(data: unknown, held: string): data is Record<string, unknown> {
  if (!isRecord(data) || typeof data.uri !== "string" || !Number.isInteger(data.version)) return false;
  return typeof data.problem === "string" || (typeof data[held] === "object" && data[held] !== null);
}

function isSeries(data: unknown): boolean {
  if (!isRecord(data) || typeof data.uri !== "string" || !SERIES.includes(data.name as SeriesName)) return false;
  return Number.isInteger(data.version) && (typeof data.problem === "string" || Array.isArray(data.lines));
}

function isShaped(data: unknown): boolean {
  if (!isRecord(data) || typeof data.uri !== "string" || !Number.isInteger(data.turn)) return false;
  if (typeof data.refusal === "string" || typeof data.made === "string") return true;
  return isRecord(data.preview) && Array.isArray(data.preview.times) && Number.isFinite(data.preview.duration);
}

function isGhost(data: unknown): boolean {
  return isRecord(data) && typeof data.label === "string" && Array.isArray(data.notes) && isAnswer(data.take);
}

function isAnswer(data: unknown): boolean {
  return isRecord(data) && typeof data.uri === "string" && Array.isArray(data.findings);
}
