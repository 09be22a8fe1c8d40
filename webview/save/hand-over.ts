import { isRecord } from "../../core/base/is-record.ts";
import { encodeBase64 } from "../../protocol/base64.ts";
import { PART_SIZE, SAVE_CAP, type SaveKind, type SaveOutcome, type SaveToStage } from "../../protocol/stage-save.ts";
import type { Bridge } from "../bridge.ts";

/** A file that was made here. */
export interface MadeFile {
  readonly name: string;
  readonly kind: SaveKind;
  readonly content: Blob;
}

/** Gives files to the editor, which asks where they go, or to the browser as downloads where there is no editor. */
export interface HandOver {
  give(file: MadeFile): Promise<SaveOutcome>;
  receive(message: SaveToStage): void;
}

export function createHandOver(bridge: Bridge): HandOver {
  const waiting = new Map<number, { readonly file: MadeFile; end(outcome: SaveOutcome): void }>();
  let last = 0;
  const sendPart = async (id: number, index: number): Promise<void> => {
    const { file } = waiting.get(id) ?? {};
    if (file === undefined) return;
    const part = file.content.slice(index * PART_SIZE, (index + 1) * PART_SIZE);
    const data = encodeBase64(new Uint8Array(await part.arrayBuffer()));
    bridge.send({ type: "save-part", id, index, data });
  };
  return {
    give(file) {
      if (file.content.size > SAVE_CAP) return Promise.resolve({ end: "failed", why: tooLarge(file.content.size) });
      if (bridge.download) {
        bridge.download(file.name, file.content);
        return Promise.resolve({ end: "written", place: file.name });
      }
      const id = (last += 1);
      const { name, kind, content } = file;
      return new Promise((end) => {
        waiting.set(id, { file, end });
        bridge.send({ type: "save", id, name, kind, size: content.size });
      });
    },
    receive(message) {
      if (message.type === "save-next") void sendPart(message.id, message.index);
      else {
        waiting.get(message.id)?.end(message.outcome);
        waiting.delete(message.id);
      }
    },
  };
}

export function isSaveToStage(data: Record<string, unknown>): data is SaveToStage & Record<string, unknown> {
  if (!Number.isInteger(data.id)) return false;
  if (data.type === "save-next") return Number.isInteger(data.index);
  if (data.type !== "saved" || !isRecord(data.outcome)) return false;
  const { end, place, why } = data.outcome;
  return end === "left" || (end === "written" && typeof place === "string") || (end === "failed" && typeof why === "string"); // prettier-ignore
}

function tooLarge(size: number): string {
  const [has, may] = [size, SAVE_CAP].map((bytes) => Math.round(bytes / 2 ** 20));
  return `It takes ${has} MiB, and ${may} MiB is the most. Make the view smaller, or film a shorter move.`;
}
