/** The little that is used of what the editor's own Git extension gives out (its API, version 1). */
export interface GitRepository {
  readonly rootUri: { readonly fsPath: string };
  readonly state: { readonly HEAD: { readonly commit?: string } | undefined };
  getCommit(ref: string): Promise<GitCommit>;
  log(options: { readonly maxEntries: number; readonly path: string }): Promise<GitCommit[]>;
  /** Rejects with `gitErrorCode` `UnknownPath` for a path that is not there at `ref`. */
  getObjectDetails(ref: string, path: string): Promise<{ readonly object: string; readonly size: number }>;
  buffer(ref: string, path: string): Promise<Uint8Array>;
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
  getRepository(uri: Uri): GitRepository | null;
}

/** What the Git extension exports. */
export interface GitExtension<Uri> {
  readonly enabled: boolean;
  /** Throws where Git is turned off or not installed. */
  getAPI(version: 1): GitApi<Uri>;
}
