import type { Alignment } from "../../core/compare/compared-move.ts";
import type { GhostState, StageGhost } from "../../protocol/stage-ghost.ts";
import type { Bridge } from "../bridge.ts";
import { element } from "../element.ts";
import { createMenu } from "../menu.ts";
import type { Moment } from "../take/moment.ts";
import { openTake, type OpenTake } from "../take/open-take.ts";
import { createGhostBar } from "./ghost-bar.ts";
import { runInSlices } from "../in-slices.ts";
import { createGhostPlay, type GhostPlay } from "./ghost-play.ts";

export interface GhostingEvents {
  /** What is compared with is another, or compared otherwise; `undefined`: nothing. */
  changed(play: GhostPlay | undefined): void;
  /** What they differ in at most is there to be read. */
  compared(): void;
  /** Somebody wants to see a moment of the move [s]. */
  went(time: number): void;
}

/** The comparison of the move that is shown with another one, as long as the page is alive. */
export interface Ghosting {
  /** What begins and ends it, and what it comes to. */
  readonly menu: HTMLElement;
  readonly bar: HTMLElement;
  /** The move that is shown, `undefined` for none. */
  load(open: OpenTake | undefined): void;
  receive(ghost: StageGhost | null): void;
  /** Brings the ghost to an instant of the move. */
  follow(moment: Moment): void;
  /** Brings what is read up to date. */
  read(moment: Moment): void;
  report(): Omit<GhostState, "links" | "keys" | "marks"> | undefined;
}

export function createGhosting(bridge: Bridge, events: GhostingEvents): Ghosting {
  let open: OpenTake | undefined;
  let given: { readonly ghost: StageGhost; readonly open: OpenTake } | undefined;
  let alignment: Alignment = "time";
  let play: GhostPlay | undefined;
  let stopComparing = (): void => undefined;
  const wish = (name: string, one: "revision" | "move" | "stop"): HTMLButtonElement => {
    const made = element("button", { type: "button" }, name);
    made.addEventListener("click", () => {
      menu.close();
      bridge.send({ type: "compare", wish: one });
    });
    return made;
  };
  const stop = wish("Stop comparing", "stop");
  const menu = createMenu("Compare", "Compare this move", [
    wish("With a revision…", "revision"),
    wish("With another move…", "move"),
    stop,
  ]);
  menu.object.classList.add("compare-menu");
  const bar = createGhostBar({
    aligned(next) {
      alignment = next;
      set();
    },
    went: events.went,
    stopped: () => bridge.send({ type: "compare", wish: "stop" }),
  });
  stop.hidden = true;

  /** Sets what is shown against what was given, once both are there. */
  function set(): void {
    const before = play;
    play = open && given ? createGhostPlay(open, given.open, given.ghost, alignment) : undefined;
    if (!play && !before) return;
    stop.hidden = !given;
    stopComparing();
    bar.load(play);
    events.changed(play);
    const compared = play;
    if (!compared) return;
    stopComparing = runInSlices(compared.compare(), (comparison) => {
      compared.comparison = comparison;
      bar.load(compared);
      events.compared();
    });
  }

  return {
    menu: menu.object,
    bar: bar.object,
    load(next) {
      open = next;
      set();
    },
    receive(ghost) {
      given = ghost ? { ghost, open: openTake(ghost.take) } : undefined;
      set();
    },
    follow: (moment) => play?.follow(moment),
    read: (moment) => bar.read(moment),
    report: () =>
      play && {
        label: play.label,
        alignment,
        time: play.moment.t,
        pupil: play.pupil,
        words: bar.words(),
      },
  };
}
