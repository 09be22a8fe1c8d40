import { LSPErrorCodes, ResponseError, type CancellationToken } from "vscode-languageserver";

/**
 * Runs one request. Its own failure rejects with an error answer and leaves a line in the log; it never ends the server; a
 * cancelled request is answered at once, whatever it was doing.
 */
export async function guarded<T>(
  name: string,
  log: (line: string) => void,
  token: CancellationToken | undefined,
  work: () => Promise<T>,
): Promise<T> {
  try {
    return token ? await orCancelled(token, work()) : await work();
  } catch (error) {
    if (error instanceof ResponseError) throw error;
    log(`${name} failed: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
    throw new ResponseError(LSPErrorCodes.RequestFailed, `Movewright could not answer ${name}; its log says why.`);
  }
}

function orCancelled<T>(token: CancellationToken, work: Promise<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const cancel = () => reject(new ResponseError(LSPErrorCodes.RequestCancelled, "The request was cancelled."));
    if (token.isCancellationRequested) cancel();
    const listening = token.onCancellationRequested(cancel);
    work.then(resolve, reject).finally(() => listening.dispose());
  });
}
