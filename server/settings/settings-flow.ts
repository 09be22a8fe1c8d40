import { DidChangeConfigurationNotification, MessageType, type Connection } from "vscode-languageserver";
import { SETTINGS_SECTION } from "../../protocol/settings.ts";
import type { Session } from "../session.ts";
import { readSettings } from "./settings.ts";
import { tell } from "../tell.ts";

export interface SettingsFlow {
  /** Begins to follow the client's settings. */
  start(): void;
}

/**
 * Settings come with `initializationOptions`, then from the client when it can be asked, else with its notification.
 * `given` are those of the start; `changed` is called when one has another value.
 */
export function registerSettings(
  connection: Connection,
  session: Session,
  given: unknown,
  changed: () => void,
): SettingsFlow {
  const { client, log } = session;
  let told = new Set<string>();

  const take = (section: unknown): boolean => {
    const { settings, faults } = readSettings(section);
    for (const message of faults.filter((fault) => !told.has(fault))) {
      tell(connection, session, message, MessageType.Warning);
    }
    // One that was mended and is made again is told again.
    told = new Set(faults);
    const isSame = JSON.stringify(settings) === JSON.stringify(session.settings);
    session.settings = settings;
    return !isSame;
  };

  const ask = () => {
    connection.workspace
      .getConfiguration(SETTINGS_SECTION)
      .then((section: unknown) => take(section) && changed())
      .catch((error: unknown) => log(`The client refused its settings: ${String(error)}`));
  };

  connection.onDidChangeConfiguration(({ settings }) => {
    if (client.asksSettings) return ask();
    const sections = settings as Readonly<Record<string, unknown>> | null | undefined;
    if (take(sections?.[SETTINGS_SECTION])) changed();
  });

  return {
    start() {
      take(given);
      if (client.registersSettings) {
        connection.client
          .register(DidChangeConfigurationNotification.type, { section: SETTINGS_SECTION })
          .catch((error: unknown) => log(`The client refused: ${String(error)}`));
      }
      if (client.asksSettings) ask();
    },
  };
}
