import {
  WorkDoneProgress,
  WorkDoneProgressCancelNotification,
  WorkDoneProgressCreateRequest,
  type Connection,
  type ProgressToken,
  type WorkDoneProgressBegin,
  type WorkDoneProgressEnd,
  type WorkDoneProgressReport,
} from "vscode-languageserver";

/** Work that is over sooner than this shows no progress, where the client says nothing else [s]. */
const QUIET = 0.5;
/** Progress is told at most so often [ms]. */
const REPORT_MS = 100;

/** One piece of work as the client shows it. */
export interface Progress {
  report(done: number, of: number): void;
  end(): void;
}

export interface ProgressWishes {
  readonly title: string;
  /** The token that the client sent with its request; without one a client that can gets a progress of the server's own. */
  readonly token?: ProgressToken;
  /** Called when a person stops the work. */
  readonly cancel: () => void;
}

type Told = WorkDoneProgressBegin | WorkDoneProgressReport | WorkDoneProgressEnd;

/** Begins the progress of work that starts now; it is shown when the work has gone on for a while. */
export type StartProgress = (wishes: ProgressWishes) => Progress;

/**
 * @param shows Whether the client shows progress that the server begins.
 * @param quiet Work that is over sooner shows none [s].
 */
export function createProgress(
  connection: Connection,
  shows: boolean,
  log: (line: string) => void,
  quiet = QUIET,
): StartProgress {
  const cancels = new Map<ProgressToken, () => void>();
  let made = 0;
  connection.onNotification(WorkDoneProgressCancelNotification.type, ({ token }) => cancels.get(token)?.());

  const send = (token: ProgressToken, value: Told) => {
    connection
      .sendProgress(WorkDoneProgress.type, token, value)
      .catch((error: unknown) => log(`Telling of progress failed: ${String(error)}`));
  };

  /** A token that the client knows; `undefined` for a client that shows no progress. */
  const tokenFor = async ({ token }: ProgressWishes): Promise<ProgressToken | undefined> => {
    if (token !== undefined || !shows) return token;
    made += 1;
    const own = `movewright-${made}`;
    await connection.sendRequest(WorkDoneProgressCreateRequest.type, { token: own });
    return own;
  };

  return (wishes) => {
    let [now, last] = [
      { done: 0, of: 0 },
      { percentage: 0, time: 0 },
    ];
    let shown: ProgressToken | undefined;
    let isOver = false;
    const said = () => ({
      // The number of documents may grow, and a percentage never goes back.
      percentage: Math.max(last.percentage, now.of === 0 ? 0 : Math.floor((100 * now.done) / now.of)),
      // Nothing is known before the documents are listed.
      message: now.of === 0 ? undefined : `${now.done} of ${now.of}`,
    });
    const begin = async () => {
      const token = await tokenFor(wishes);
      if (token === undefined) return;
      if (isOver) return;
      shown = token;
      cancels.set(token, wishes.cancel);
      last = { ...said(), time: Date.now() };
      send(token, { kind: "begin", title: wishes.title, cancellable: true, ...said() });
    };
    const timer = setTimeout(() => {
      begin().catch((error: unknown) => log(`The client shows no progress: ${String(error)}`));
    }, 1000 * quiet);
    return {
      report(done, of) {
        now = { done, of };
        if (shown === undefined || isOver || Date.now() - last.time < REPORT_MS) return;
        last = { ...said(), time: Date.now() };
        send(shown, { kind: "report", ...said() });
      },
      end() {
        if (isOver) return;
        isOver = true;
        clearTimeout(timer);
        if (shown === undefined) return;
        cancels.delete(shown);
        send(shown, { kind: "end", message: said().message });
      },
    };
  };
}
