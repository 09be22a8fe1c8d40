import type { StageAnswer, StageMeshAnswer, StageMeshPart } from "./stage.ts";

/** Names and shapes of the requests beside LSP's own. Uris are the editor's strings. */
export const TAKE_REQUEST = "movewright/take";
export interface TakeParams {
  readonly uri: string;
}
export type TakeResult = StageAnswer;

/** A file of a mesh that the take of a move names. */
export const MESH_REQUEST = "movewright/mesh";
export interface MeshParams {
  readonly uri: string;
  readonly mesh: StageMeshPart;
}
export type MeshResult = StageMeshAnswer;

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
  { readonly uri: string; readonly key: number } | { readonly uri: string; readonly finding: number };
export type PlaceOfResult = {
  readonly uri: string;
  readonly range: {
    readonly start: { readonly line: number; readonly character: number };
    readonly end: { readonly line: number; readonly character: number };
  };
} | null;

/** An edit of a move that a command asks for: the client makes it as one step that can be undone. */
export const EDIT_REQUEST = "movewright/edit";
export interface EditParams {
  readonly uri: string;
  readonly edit:
    /** The key at `position` and all later ones, by an amount of time as it is written: `1.5 s`, `-12 f`. */
    | {
        readonly kind: "shift-keys";
        readonly position: TextPosition;
        readonly by: string;
      }
    /** A key on the way, at a time of the move [s]. */
    | { readonly kind: "add-key"; readonly time: number };
  /** Only asks whether it can be written: the edited move is not solved, and nothing is said of it. */
  readonly tries?: boolean;
}
export type EditResult =
  | {
      /** Of the text that the edits are for; absent for one that is not open. */
      readonly version?: number;
      readonly edits: readonly {
        readonly range: TextPlace["range"];
        readonly newText: string;
      }[];
      /** What there is to say of the edited move, as a sentence. */
      readonly note?: string;
    }
  /** Why there is no edit, as a sentence. */
  | { readonly refusal: string };

/** Commands that ask for what an edit takes. */
export const SHIFT_KEYS_COMMAND = "movewright.shiftLaterKeys";
export const ADD_KEY_COMMAND = "movewright.addKeyAtPlayhead";

/** Where the client must read files for the server (a browser editor's virtual files). */
export const READ_FILE_REQUEST = "movewright/readFile";
export interface ReadFileParams {
  readonly uri: string;
  /** A text, only what there is to know of a file, or its bytes. Default: text. */
  readonly as?: "text" | "facts" | "bytes";
}
export type ReadFileResult =
  | { readonly state: "text"; readonly text: string }
  /** `stamp` is another one when the file changed; `data` in base64, when bytes were asked for. */
  | { readonly state: "bytes"; readonly size: number; readonly stamp: string; readonly data?: string }
  | { readonly state: "missing" }
  | { readonly state: "too-large"; readonly bytes: number };

/** Documents of ours, or what they name beside each other: URDF files and meshes. */
export type ListedFiles = "documents" | "assets";

/** Server to client: the files that the folders hold, where the server cannot list them itself. */
export const LIST_FILES_REQUEST = "movewright/listFiles";
export interface ListFilesParams {
  /** Most files to list. */
  readonly cap: number;
  readonly what: ListedFiles;
}
export type ListFilesResult = { readonly uris: readonly string[] };

/** What a client tells with `initializationOptions`: which of the requests above it answers, and its settings. */
export interface InitializationOptions {
  readonly readFile?: boolean;
  readonly listFiles?: boolean;
  /** Uri of the reference page of findings, whose headings are the codes. */
  readonly findingsPage?: string;
  /** Commands of ours that the client has, for what the server offers to be clicked. Default: none. */
  readonly commands?: readonly string[];
  /** The section `movewright`; read as what the editor sends later. */
  readonly settings?: unknown;
  /** Work that is over sooner than this shows no progress [s]. Default: 0.5. */
  readonly progressAfter?: number;
}

/**
 * Checks every document of the workspace now, the open ones too, even where that was stopped or is turned off, and answers
 * when it is done.
 */
export const CHECK_WORKSPACE_REQUEST = "movewright/checkWorkspace";
export interface CheckWorkspaceResult {
  /** Documents that were checked; all of them, unless it was stopped. */
  readonly documents: number;
  readonly of: number;
  /** Findings by severity, hints left out. */
  readonly errors: number;
  readonly warnings: number;
  readonly informations: number;
  /** True when somebody stopped it. */
  readonly stopped: boolean;
}

/** Command of the code lens and the editor's title: opens the stage of the move with this uri. */
export const OPEN_STAGE_COMMAND = "movewright.openStage";
/** Command of the code lens on a key: opens the stage of the move with this uri and plays from a time [s]. */
export const PLAY_FROM_COMMAND = "movewright.playFrom";
export type PlayFromArguments = readonly [uri: string, time: number];
/** Command of code lenses that are about places: shows them beside the one that was clicked. */
export const SHOW_PLACES_COMMAND = "movewright.showPlaces";
export type ShowPlacesArguments = readonly [uri: string, at: TextPosition, places: readonly TextPlace[]];
export interface TextPosition {
  readonly line: number;
  readonly character: number;
}
export interface TextPlace {
  readonly uri: string;
  readonly range: { readonly start: TextPosition; readonly end: TextPosition };
}

/** Glob of the documents that are ours, and the name of the diagnostics' source. */
export const DOCUMENT_GLOB = "**/{*.rig,*.camera,*.set,*.move,*.shoot,movewright.config}.{yaml,yml,json}";
/** Glob of what documents name beside each other. */
export const ASSET_GLOB = "**/*.{urdf,URDF,stl,STL,obj,OBJ,gltf,GLTF,glb,GLB,png,PNG,jpg,JPG,jpeg,JPEG,webp,WEBP}";
export const DIAGNOSTIC_SOURCE = "movewright";
export const PROGRAM_NAME = "Movewright";
