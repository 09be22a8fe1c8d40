import type { TakeResult } from "../../protocol/requests.ts";
import type { FromStage } from "../../protocol/stage.ts";
import { SHAPE_REQUEST, type ShapeAnswer, type ShapeParams, type ShapeResult } from "../../protocol/stage-shape.ts";
import { readFromStage } from "../../protocol/from-stage.ts";
import { startNearServer, type NearServer } from "../support/near-server.ts";
import type { StageTab } from "./stage-host.ts";

/** A stage with the product's own server behind it, and an editor that makes its edits. */
export interface LinkedStage {
  readonly server: NearServer;
  /** The text of the move, or of another document, as it is now. */
  text(path?: string): string;
  /** Edits that were made, one by one. */
  readonly edits: { readonly path: string; readonly count: number }[];
  readonly answers: ShapeAnswer[];
  /** Puts a text in as somebody who types does, and shows its take. */
  type(text: string): Promise<void>;
  stop(): void;
}

/** @param files Texts by path; the first is the move that is shown. */
export async function linkStage(tab: StageTab, files: Readonly<Record<string, string>>): Promise<LinkedStage> {
  const server = await startNearServer(files);
  const [move] = Object.keys(files);
  const texts = new Map(Object.entries(files));
  const edits: LinkedStage["edits"] = [];
  const answers: ShapeAnswer[] = [];
  const uri = server.uri(move);
  const sendTake = async (): Promise<void> => {
    const answer = await server.connection.sendRequest<TakeResult>("movewright/take", { uri });
    await tab.send({ type: "take", answer });
  };
  const put = async (path: string, text: string): Promise<void> => {
    texts.set(path, text);
    await server.change(path, text);
    await sendTake();
  };
  const shape = async (wish: Extract<FromStage, { type: "shape" }>): Promise<void> => {
    const { turn, phase, intent } = wish;
    const params: ShapeParams = { uri, turn, version: wish.version, phase, intent };
    const result = await server.connection.sendRequest<ShapeResult>(SHAPE_REQUEST, params);
    if ("superseded" in result) return;
    const own = { uri, turn, version: wish.version };
    const tell = (answer: ShapeAnswer): Promise<void> => {
      answers.push(answer);
      return tab.send({ type: "shape", answer });
    };
    if ("refusal" in result) return tell({ ...own, refusal: result.refusal });
    if ("preview" in result) return tell({ ...own, preview: result.preview });
    const { write, made, stop } = result;
    const path = write.uri.slice(server.uri("").length);
    await tell({ ...own, made, unchanged: write.edits.length === 0, ...(stop ? { stop } : {}) });
    if (write.edits.length === 0) return;
    edits.push({ path, count: write.edits.length });
    await put(path, edited(texts.get(path) ?? "", write.edits));
  };
  await server.open(move, files[move]);
  for (const path of Object.keys(files)) if (path.endsWith(".set.yaml")) await server.open(path, files[path]);
  await tab.page.exposeFunction("editorHears", (raw: unknown) => {
    const message = readFromStage(raw);
    if (message?.type === "shape") void shape(message);
  });
  await tab.page.evaluate(() => {
    const { sent } = window.editorChannel;
    const push = sent.push.bind(sent);
    sent.push = (...messages) => {
      for (const one of messages) (window as unknown as { editorHears(raw: unknown): void }).editorHears(one);
      return push(...messages);
    };
  });
  await sendTake();
  await tab.settle();
  return {
    server,
    edits,
    answers,
    text: (path = move) => texts.get(path) ?? "",
    async type(text) {
      await put(move, text);
      await tab.settle();
    },
    stop: () => server.stop(),
  };
}

interface TextEdit {
  readonly range: { readonly start: Position; readonly end: Position };
  readonly newText: string;
}
interface Position {
  readonly line: number;
  readonly character: number;
}

function edited(text: string, edits: readonly TextEdit[]): string {
  const starts = [0, ...[...text.matchAll(/\n/g)].map(({ index }) => index + 1)];
  const offset = ({ line, character }: Position): number => starts[line] + character;
  return [...edits]
    .sort((a, b) => offset(b.range.start) - offset(a.range.start))
    .reduce(
      (now, { range, newText }) => now.slice(0, offset(range.start)) + newText + now.slice(offset(range.end)),
      text,
    );
}
