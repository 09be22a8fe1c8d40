import type { CancellationToken, ProgressToken } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import type { Analyses, Known } from "../analyses.ts";
import type { StartProgress } from "./progress.ts";
import type { WorkspaceFiles } from "../files/workspace-files.ts";

/** Checks of documents that nobody looks at: one after the other, with progress, until somebody stops them. */
export interface Background {
  /** Documents of the workspace that are checked without being open. */
  files(): Promise<readonly FileId[]>;
  /**
   * Gives each of `files` to `took` as soon as its motion is known, those first that depend on what was edited last. Waits
   * for a check that goes on.
   */
  check(files: readonly FileId[], wishes: CheckWishes): Promise<void>;
  /** Something changed, and with it what is found in `files`: they come first, and what was stopped goes on. */
  changed(files: readonly FileId[]): void;
  /** Checks all once more, also where that is turned off, until the settings change. */
  wish(): void;
  settingsChanged(): void;
  /** True from when a person stopped the checks until something changes or they are asked for. */
  isStopped(): boolean;
}

export interface CheckWishes {
  readonly token?: CancellationToken;
  /** Where the client wants to be told how far it is. */
  readonly progress?: ProgressToken;
  /** Documents of which something changes meanwhile are taken once more, and soon. */
  readonly follows?: boolean;
  readonly took: (file: FileId, known: Known) => void;
}

/** What they work with; the settings as they are at the moment. */
export interface BackgroundParts {
  readonly documents: WorkspaceFiles;
  readonly analyses: Analyses;
  readonly startProgress: StartProgress;
  readonly isOn: () => boolean;
}

const TITLE = "Checking moves";

export function createBackground({ documents, analyses, startProgress, isOn }: BackgroundParts): Background {
  const first = new Set<FileId>();
  let running: Promise<void> = Promise.resolve();
  let isStopped = false;
  let isWished = false;
  let wake: (() => void)[] = [];
  let again: (files: readonly FileId[]) => void = () => undefined;

  const stop = () => {
    isStopped = true;
    const woken = wake;
    wake = [];
    for (const each of woken) each();
  };

  /** The whole analysis, or `undefined` when the check is stopped first. */
  const known = (file: FileId, token: CancellationToken | undefined): Promise<Known | undefined> => {
    if (isStopped) {
      // What is known already costs nothing.
      const now = analyses.current(file);
      return Promise.resolve(now?.whole ? now : undefined);
    }
    return new Promise((resolve, reject) => {
      const end = () => resolve(undefined);
      const listening = token?.onCancellationRequested(end);
      wake.push(end);
      analyses
        .whole(file, "background")
        .then(resolve, reject)
        .finally(() => {
          listening?.dispose();
          wake = wake.filter((each) => each !== end);
        });
    });
  };

  const run = async (files: readonly FileId[], { token, progress: wanted, follows, took }: CheckWishes) => {
    const progress = startProgress({ title: TITLE, token: wanted, cancel: stop });
    const left = new Set(files);
    // What is open or gone is not waited for: kept, one closed document after the other would fill the memory.
    for (const file of first) if (!left.has(file)) first.delete(file);
    if (follows) {
      const listed = new Set(files);
      again = (changed) => changed.filter((file) => listed.has(file)).forEach((file) => left.add(file));
    }
    const next = () => [...first].find((file) => left.has(file)) ?? left.values().next().value;
    try {
      for (let file = next(); file !== undefined; file = next()) {
        left.delete(file);
        if (token?.isCancellationRequested) return;
        const found = await known(file, token);
        if (!found) continue;
        first.delete(file);
        took(file, found);
        progress.report(files.length - left.size, files.length);
      }
    } finally {
      again = () => undefined;
      progress.end();
    }
  };

  return {
    async files() {
      return isOn() || isWished ? documents.all() : [];
    },
    check(files, wishes) {
      const mine = running.then(() => run(files, wishes));
      // One that failed must not keep the next from its turn; its own caller is told.
      running = mine.catch(() => undefined);
      return mine;
    },
    changed(files) {
      isStopped = false;
      for (const file of files) first.add(file);
      again(files);
    },
    wish() {
      isStopped = false;
      isWished = true;
    },
    settingsChanged() {
      isStopped = false;
      isWished = false;
    },
    isStopped: () => isStopped,
  };
}
