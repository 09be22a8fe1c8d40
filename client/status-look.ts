import type { MoveStatus } from "../protocol/status.ts";
import type { ServerState } from "./server-health.ts";

/** How the status bar item looks and what a screen reader says of it. */
export interface StatusLook {
  readonly text: string;
  readonly tooltip: string;
  readonly spoken: string;
  /** The editor's colours for what needs attention; the words say so too. */
  readonly alert?: "error" | "warning";
}

/** What is shown while the server is in this state and says this of the move in front. */
export function statusLook(server: ServerState, status: MoveStatus | undefined): StatusLook {
  if (server === "stopped") {
    const words = "Movewright server not running";
    return plain("$(circle-slash)", words, [`${words}: nothing is checked.`, "Click to restart it."], "error");
  }
  if (server === "starting") {
    return plain("$(sync~spin)", "Movewright starting", ["The Movewright server is starting."]);
  }
  if (!status) return plain("$(sync~spin)", "Solving the move", ["The move is being solved."]);
  const icon = ICONS[status.state];
  const words = status.state === "solving" ? `${status.label}, solving` : status.label;
  const alert = status.errors > 0 ? "error" : status.over ? "warning" : undefined;
  const hint = status.place ? ["Click to go to where it comes from."] : [];
  return plain(alert && status.state === "solved" ? "$(error)" : icon, words, [...status.lines, ...hint], alert);
}

const ICONS: Readonly<Record<MoveStatus["state"], string>> = {
  solved: "$(pulse)",
  solving: "$(sync~spin)",
  "last-good": "$(history)",
  unsolved: "$(error)",
};

function plain(icon: string, words: string, lines: readonly string[], alert?: StatusLook["alert"]): StatusLook {
  const spoken = `Movewright: ${words}. ${lines.join(" ")}`.replaceAll("%", "percent");
  // `$(` begins an icon: the names of axes are people's own.
  const text = `${icon} ${words.replaceAll("$(", "$ (")}`;
  return { text, tooltip: lines.join("\n"), spoken, ...(alert ? { alert } : {}) };
}
