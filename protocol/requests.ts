import type { StageAnswer } from "./stage.ts";

/** Names and shapes of the requests beside LSP's own. Uris are the editor's strings. */
export const TAKE_REQUEST = "movewright/take";
export interface TakeParams {
  readonly uri: string;
}
export type TakeResult = StageAnswer;

/** Server to client: the take of this move may have changed (its text, or a file that it uses). */
export const TAKE_CHANGED = "movewright/takeChanged";
export interface TakeChangedParams {
  readonly uri: string;
}

/** Which key a position of the text stands in. */
export const KEY_AT_REQUEST = "movewright/keyAt";
export interface KeyAtParams {
  readonly uri: string;
  readonly position: { readonly line: number; readonly character: number };
}
export type KeyAtResult = { readonly key: number; readonly time: number } | null;

/** The text of a key or of a finding of the last take. */
export const PLACE_OF_REQUEST = "movewright/placeOf";
export type PlaceOfParams =
  | { readonly uri: string; readonly key: number }
  | { readonly uri: string; readonly finding: number };
export type PlaceOfResult = {
  readonly uri: string;
  readonly range: {
    readonly start: { readonly line: number; readonly character: number };
    readonly end: { readonly line: number; readonly character: number };
  };
} | null;

/** Where the client must read files for the server (a browser editor's virtual files). */
export const READ_FILE_REQUEST = "movewright/readFile";
export interface ReadFileParams {
  readonly uri: string;
}
export type ReadFileResult =
  | { readonly state: "text"; readonly text: string }
  | { readonly state: "missing" }
  | { readonly state: "too-large"; readonly bytes: number };
