import { decodeBase64 } from "../core/base/base64.ts";

/** Bytes that one message carries at most, and those of the largest file that is saved: long films stay below. */
export const PART_SIZE = 192 * 1024;
export const SAVE_CAP = 512 * 1024 * 1024;
export const SAVE_KINDS = ["png", "webm"] as const;
export type SaveKind = (typeof SAVE_KINDS)[number];

/** A file that the stage made. The extension asks for a place, then for the parts one by one, and writes them. */
export interface SaveWish {
  readonly id: number;
  /** Without a folder. */
  readonly name: string;
  readonly kind: SaveKind;
  /** Bytes. */
  readonly size: number;
}

/** From the stage: a wish, and a part of it as base64 when it was asked for. */
export type SaveFromStage =
  | ({ readonly type: "save" } & SaveWish)
  | { readonly type: "save-part"; readonly id: number; readonly index: number; readonly data: string };

/** To the stage: the part that is wanted next, and how it ended. */
export type SaveToStage =
  | { readonly type: "save-next"; readonly id: number; readonly index: number }
  | { readonly type: "saved"; readonly id: number; readonly outcome: SaveOutcome };

export type SaveOutcome =
  | { readonly end: "written"; readonly place: string }
  /** Nobody named a place. */
  | { readonly end: "left" }
  | { readonly end: "failed"; readonly why: string };

/** A name that any file system takes, from words that may hold anything. */
export function fileNameOf(words: string, kind: SaveKind): string {
  const plain = words
    .replace(/[\\/:*?"<>|\p{Cc}]+/gu, "-")
    .replace(/\s+/g, " ")
    .replace(/^[\s.]+|[\s.]+$/g, "");
  return `${plain.slice(0, 100) || "stage"}.${kind}`;
}

/** The bytes of a part; `undefined` when it is damaged. */
export function readPart(data: string): Uint8Array | undefined {
  return decodeBase64(data);
}
