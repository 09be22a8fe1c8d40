import type { Player } from "./player.ts";
import { PANE_KINDS, type PaneKind } from "./panes/pane-kind.ts";
import { SPEEDS } from "./state.ts";

export interface ShortcutTargets {
  readonly player: Player;
  toStart(): void;
  toEnd(): void;
  goToKey(towards: "next" | "previous"): void;
  revealKey(): void;
  /** Of the active pane. */
  kind(kind: PaneKind): void;
  fit(): void;
  /** One, two or four panes in turn. */
  nextCount(): void;
  /** Of what the graphs show: on to the next, or back. */
  peak(step: 1 | -1): void;
  help(): void;
  /** The chosen key so many frames later; then it is let go of, or what is shaped is put back. */
  shapeKey(frames: number): void;
  shaped(): void;
  unshape(): void;
}

/** Frames that `<` and `>` take. */
const LONG_STEP = 10;

/** Keys that work wherever the focus is, but for controls that use the same key themselves. */
export function bindShortcuts(targets: ShortcutTargets): void {
  bindShaping(targets);
  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
    if (document.querySelector("dialog[open]") || usesItself(event)) return;
    const act = actionOf(event.key, targets);
    if (act === undefined) return;
    event.preventDefault();
    act();
  });
}

/** Alt and the arrow keys move the chosen key in time while they are held; letting go writes it, Escape puts it back. */
function bindShaping({ shapeKey, shaped, unshape }: ShortcutTargets): void {
  let held = false;
  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || document.querySelector("dialog[open]")) return;
    const way = event.key === "ArrowLeft" ? -1 : event.key === "ArrowRight" ? 1 : 0;
    if (event.altKey && !event.ctrlKey && !event.metaKey && way !== 0) {
      held = true;
      shapeKey(way * (event.shiftKey ? LONG_STEP : 1));
    } else if (event.key === "Escape") {
      held = false;
      unshape();
      return;
    } else return;
    event.preventDefault();
  });
  document.addEventListener("keyup", (event) => {
    if (!held || !["Alt", "ArrowLeft", "ArrowRight"].includes(event.key)) return;
    held = false;
    shaped();
  });
}

function usesItself(event: KeyboardEvent): boolean {
  const at = event.target;
  if (!(at instanceof HTMLElement)) return false;
  if (at.closest("button, summary, input[type=checkbox]")) return event.key === " " || event.key === "Enter";
  if (at.closest("select")) return event.key !== "?" && event.key.length !== 1 ? true : event.key === " ";
  if (at.closest("input[type=range]")) return ["Home", "End", "PageUp", "PageDown"].includes(event.key);
  if (at.closest("[role=tabpanel]") && at.scrollHeight > at.clientHeight) {
    return ["Home", "End", "PageUp", "PageDown"].includes(event.key);
  }
  return false;
}

function actionOf(key: string, on: ShortcutTargets): (() => void) | undefined {
  const { player } = on;
  switch (key) {
    case " ":
      return () => (player.playing ? player.pause() : player.play());
    case ",":
      return () => player.step(-1);
    case ".":
      return () => player.step(1);
    case "<":
      return () => player.step(-LONG_STEP);
    case ">":
      return () => player.step(LONG_STEP);
    case "s":
      return () => player.setSpeed(neighbour(SPEEDS, player.speed, -1));
    case "S":
      return () => player.setSpeed(neighbour(SPEEDS, player.speed, 1));
    case "Home":
      return on.toStart;
    case "End":
      return on.toEnd;
    case "PageUp":
      return () => on.goToKey("previous");
    case "PageDown":
      return () => on.goToKey("next");
    case "l":
    case "L":
      return () => player.setLoop(!player.loop);
    case "f":
    case "F":
      return on.fit;
    case "v":
    case "V":
      return on.nextCount;
    case "r":
    case "R":
      return on.revealKey;
    case "p":
      return () => on.peak(1);
    case "P":
      return () => on.peak(-1);
    case "?":
      return on.help;
    case "1":
    case "2":
    case "3":
    case "4":
    case "5":
      return () => on.kind(PANE_KINDS[Number(key) - 1]);
    default:
      return undefined;
  }
}

function neighbour<T>(list: readonly T[], at: T, by: number): T {
  return list[Math.min(Math.max(list.indexOf(at) + by, 0), list.length - 1)];
}
