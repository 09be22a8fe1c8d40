import type { FileId } from "../core/base/span.ts";
import type { Settings } from "../protocol/settings.ts";
import type { Analyses } from "./analyses.ts";
import type { Background } from "./diagnostics/diagnostics-background.ts";
import type { MeshFiles } from "./files/mesh-files.ts";
import type { FileMarks } from "./review/marks.ts";
import type { Scheduler } from "./scheduler.ts";
import type { Signal } from "./signal.ts";
import type { ReadNames } from "./service/names/written-names.ts";
import type { Texts } from "./files/texts.ts";
import type { WorkspaceFiles } from "./files/workspace-files.ts";

/** All that one connection knows; made when the client introduces itself. */
export interface Session {
  readonly texts: Texts;
  readonly analyses: Analyses;
  /** Documents of ours. */
  readonly files: WorkspaceFiles;
  /** What they name beside each other: URDF files and meshes. */
  readonly assets: WorkspaceFiles;
  readonly meshes: MeshFiles;
  readonly names: ReadNames;
  /** Reference page of findings, where the client ships one. */
  readonly findingsPage: string | undefined;
  /** Checks of documents that are not open. */
  readonly background: Background;
  readonly client: ClientAbilities;
  /** Fires when a text, the settings or the folders changed. */
  readonly changed: Signal;
  /** What the base of a review had of a document, where new findings are marked. */
  marks: (file: FileId) => FileMarks | undefined;
  folders: readonly FileId[];
  settings: Settings;
  /** Long work in slices; see the scheduler. */
  readonly run: Scheduler["run"];
  log(line: string): void;
}

/** What the client told about itself, as far as the server behaves differently for it. */
export interface ClientAbilities {
  /** Pulls, and again when told to: findings of motion come later, and other files change what is found in this one. */
  readonly pullsDiagnostics: boolean;
  readonly refreshesLenses: boolean;
  readonly refreshesInlayHints: boolean;
  readonly refreshesTokens: boolean;
  readonly watchesFiles: boolean;
  readonly tellsFolders: boolean;
  /** Shows progress that the server begins. */
  readonly showsProgress: boolean;
  readonly asksSettings: boolean;
  /** Tells that settings changed only when the server registers for it. */
  readonly registersSettings: boolean;
  /** Takes code actions; older ones take commands alone. */
  readonly takesActions: boolean;
  readonly resolvesActionEdits: boolean;
  /** Creates and deletes files as parts of an edit. */
  readonly changesFiles: boolean;
  /** Shows what is said about changes of an edit, and asks about those that need it. */
  readonly annotatesChanges: boolean;
  /** Shows code actions that can't be done, with the reason. */
  readonly showsDisabledActions: boolean;
  readonly nestsSymbols: boolean;
  readonly preparesRename: boolean;
  /** Shows what stands in the place of folded lines. */
  readonly foldsWithSummary: boolean;
  /** Knows holes to fill in, in what a completion writes. */
  readonly knowsSnippets: boolean;
  /** Can be told to leave the indentation of what a completion writes as it is. */
  readonly insertsAsIs: boolean;
  /** Commands of ours that it has: a lens or an action that needs another one is offered without it, or not at all. */
  readonly commands: ReadonlySet<string>;
}

/** Part of every result id: results of another build are never taken for ours. */
export const PROGRAM_VERSION = "0.1.0";
