import { fileNameOf, type SaveKind, type SaveToStage } from "../../protocol/stage-save.ts";
import type { Bridge } from "../bridge.ts";
import type { Pictures } from "../pictures.ts";
import { PANE_NAMES } from "../panes/pane-kind.ts";
import type { PaneSet } from "../panes/pane-set.ts";
import type { OpenTake } from "../take/open-take.ts";
import { timecodeOf } from "../take/words.ts";
import { canFilm, NO_FILM } from "./encode-film.ts";
import { createHandOver } from "./hand-over.ts";
import { deliveredSize } from "./lens-still.ts";
import { lensPicture, paneFilm, panePicture } from "./make-files.ts";
import { createProgressDialog } from "./progress-dialog.ts";
import { createSaveMenu, type SaveWhat } from "./save-menu.ts";

export interface SavingParts {
  readonly bridge: Bridge;
  readonly pictures: Pictures;
  open(): OpenTake | undefined;
  time(): number;
  panes(): PaneSet;
  /** Says something aloud and where it can be read. */
  say(sentence: string): void;
  /** The pictures show another instant now than the page does. */
  stale(): void;
}

/** Pictures and films of the move as files. */
export interface Saving {
  readonly menu: HTMLElement;
  readonly dialog: HTMLElement;
  /** What can be saved may have changed. */
  update(): void;
  receive(message: SaveToStage): void;
}

export function createSaving(parts: SavingParts): Saving {
  const { bridge, pictures } = parts;
  const handOver = createHandOver(bridge);
  const progress = createProgressDialog();
  const menu = createSaveMenu((what) => void save(what));

  /** Each file says of what, when and from where it is. */
  function nameOf(open: OpenTake, what: SaveWhat, time: number): string {
    const { panes, active } = parts.panes();
    const view = what === "lens" ? "delivered" : PANE_NAMES[panes[active]].toLowerCase();
    const kind: SaveKind = what === "film" ? "webm" : "png";
    return fileNameOf([open.stage.title, ...(what === "film" ? [] : [timecodeOf(open, time)]), view].join(" "), kind);
  }

  async function make(open: OpenTake, what: SaveWhat, time: number): Promise<Blob | undefined> {
    const shooting = { pictures, open, pane: parts.panes().active };
    if (what === "view") return panePicture(shooting, time);
    if (what === "lens") return lensPicture(shooting, time);
    const stop = progress.open();
    try {
      return await paneFilm(shooting, {
        stop,
        progress(share) {
          progress.show(share);
          return new Promise((resolve) => setTimeout(resolve));
        },
      });
    } finally {
      progress.close();
    }
  }

  async function save(what: SaveWhat): Promise<void> {
    const open = parts.open();
    if (open === undefined) return;
    const time = parts.time();
    const name = nameOf(open, what, time);
    try {
      const content = await make(open, what, time);
      parts.stale();
      if (content === undefined) return parts.say("Filming was stopped; nothing was saved.");
      const outcome = await handOver.give({ name, kind: what === "film" ? "webm" : "png", content });
      if (outcome.end === "failed") tell(`${name} was not saved. ${outcome.why}`);
      else if (outcome.end === "written") parts.say(`Saved ${outcome.place}.`);
    } catch (error) {
      parts.stale();
      tell(`${name} could not be made. ${error instanceof Error ? error.message : String(error)}`);
    }
  }

  function tell(message: string): void {
    bridge.send({ type: "failed", message });
  }

  return {
    menu: menu.object,
    dialog: progress.object,
    update() {
      const open = parts.open();
      const none = open === undefined ? "There is no move to save." : undefined;
      const blind = pictures.surface() === "alive" ? undefined : "It needs WebGL 2, which is missing here.";
      const why = none ?? blind;
      const size = open ? `, ${deliveredSize(open).join(" × ")}` : "";
      menu.update(size, { view: why, lens: why, film: why ?? (canFilm() ? undefined : NO_FILM) });
    },
    receive: handOver.receive,
  };
}
