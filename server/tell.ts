import { MessageType, ShowMessageNotification, type Connection } from "vscode-languageserver";
import type { Session } from "./session.ts";

/**
 * Shows people a message and awaits no answer. The library's own way is a request: a client that doesn't know it would
 * refuse it, and a refusal that nobody takes ends the server.
 */
export function tell(
  connection: Connection,
  { log }: Pick<Session, "log">,
  message: string,
  type: MessageType = MessageType.Info,
): void {
  connection
    .sendNotification(ShowMessageNotification.type, { type, message })
    .catch((error: unknown) => log(`Telling failed: ${String(error)}`));
}
