/** The little that is used of what the editor's own Git extension gives out (its API, version 1). */
export interface GitRepository {
  readonly rootUri: { readonly fsPath: string };
  readonly state: GitState;
  getCommit(ref: string): Promise<GitCommit>;
  log(options: { readonly maxEntries: number; readonly path: string }): Promise<GitCommit[]>;
  /** Rejects with `gitErrorCode` `UnknownPath` for a path that is not there at `ref`. */
  getObjectDetails(ref: string, path: string): Promise<{ readonly object: string; readonly size: number }>;
  buffer(ref: string, path: string): Promise<Uint8Array>;
  /** Files that Git knows and that the disk has otherwise than a commit. */
  diffWith(ref: string): Promise<readonly GitChange[]>;
  getMergeBase(one: string, other: string): Promise<string | undefined>;
}

export interface GitState {
  readonly HEAD: { readonly commit?: string } | undefined;
  readonly workingTreeChanges: readonly GitChange[];
  /** What is staged. */
  readonly indexChanges: readonly GitChange[];
  /** Files that Git does not know, where the editor is told to list them apart. */
  readonly untrackedChanges?: readonly GitChange[];
  onDidChange(listener: () => void): { dispose(): void };
}

/** A file that came, went or is another one; where it was renamed, the first two have its old place. */
export interface GitChange {
  readonly uri: { toString(): string };
  readonly originalUri: { toString(): string };
  readonly renameUri: { toString(): string } | undefined;
  readonly status: number;
}

export interface GitCommit {
  readonly hash: string;
  readonly message: string;
  readonly authorName?: string;
  readonly authorDate?: Date;
  readonly commitDate?: Date;
}

export interface GitApi<Uri> {
  readonly state: "uninitialized" | "initialized";
  onDidChangeState(listener: (state: string) => void): { dispose(): void };
  onDidOpenRepository(listener: () => void): { dispose(): void };
  onDidCloseRepository(listener: () => void): { dispose(): void };
  getRepository(uri: Uri): GitRepository | null;
  /** Address of a file at a commit, which the editor reads. */
  toGitUri(uri: Uri, ref: string): Uri;
}

/** What the Git extension exports. */
export interface GitExtension<Uri> {
  readonly enabled: boolean;
  /** Throws where Git is turned off or not installed. */
  getAPI(version: 1): GitApi<Uri>;
}
