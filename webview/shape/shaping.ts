import { element, setText } from "../element.ts";
import type { Bridge } from "../bridge.ts";
import type { Player } from "../player.ts";
import type { OpenTake } from "../take/open-take.ts";
import { timecodeOf } from "../take/words.ts";
import { createHand, type Hand, type Told } from "./hand.ts";
import type { PaneHand } from "./pane-hand.ts";

/** What shaping does with the rest of the page. */
export interface ShapingPage {
  readonly bridge: Bridge;
  readonly player: Player;
  /** The take that is shown. */
  shown(): OpenTake | undefined;
  chosenKey(): number;
  /** Shows a take that is only tried, at one of its keys. */
  show(open: OpenTake, time: number): void;
  /** Shows the text's take again. */
  back(open: OpenTake): void;
  say(sentence: string): void;
}

/** Shaping by hand: what is dragged in the panes, on the strip and among the values goes through one hand. */
export interface Shaping extends Pick<Hand, "receive" | "cancel" | "active" | "release"> {
  readonly pane: PaneHand;
  /** What is said of a wish, over the pictures. */
  readonly object: HTMLElement;
  load(open: OpenTake | undefined): void;
  /** A key is wanted at a time [s]. */
  dragKey(key: number, time: number): void;
  /** The chosen key so many frames later; below 0 earlier. */
  stepKey(frames: number): void;
  /** An axis of the chosen key further by this than the text has it [m, rad]. */
  nudge(axis: number, by: number): void;
}

/** How long what was written, or refused, is said [ms]. */
const SAID = 6000;

const ALONE = "This page shows a move and cannot change its text: shape it in the editor.";
const STALE = "The text can't be solved as it stands: shaping waits until it can.";
const NO_KEY = "No key is chosen: click its diamond first, or go to it with Page Up and Page Down.";

export function createShaping(page: ShapingPage): Shaping {
  const { player } = page;
  const object = element("p", { class: "shape-words", "aria-hidden": "true", hidden: true });
  const listeners: ((told: Told | undefined) => void)[] = [];
  let quiet: number | undefined;
  let shownBefore = 0;

  const tell = (raw: Told | undefined): void => {
    // Names are marked in sentences that stand in a text; here they are read and heard as they are.
    const told = raw && { ...raw, words: raw.words.replaceAll("`", "") };
    window.clearTimeout(quiet);
    object.hidden = told === undefined;
    for (const listener of listeners) listener(told);
    if (!told) return;
    setText(object, told.words);
    object.dataset.kind = told.kind;
    page.say(told.words);
    if (told.kind === "made" || told.kind === "refused") quiet = window.setTimeout(() => tell(undefined), SAID);
  };
  const hand = createHand({
    send: (wish) => page.bridge.send({ type: "shape", ...wish }),
    show: (open, key) => page.show(open, open.keyTimes[key] ?? player.time),
    back() {
      tell(undefined);
      const base = hand.base();
      if (base) page.back(base);
    },
    told: tell,
    // A short press is written before anything of it was shown.
    wrote(intent, open) {
      if (intent.kind === "time") player.seek(open.keyTimes[intent.key] ?? player.time);
      // Another take says where the playhead is: what was written comes after it.
      if (!object.hidden) page.say(object.textContent);
    },
  });
  /** Why nothing can be shaped now. */
  const whyNot = (): string | undefined => {
    if (!page.bridge.writes) return ALONE;
    const open = hand.base();
    return open === undefined || open.stage.stale ? STALE : undefined;
  };
  const want: Hand["want"] = (intent) => {
    const why = whyNot();
    if (why !== undefined) {
      tell({ kind: "refused", words: why });
      return;
    }
    if (player.playing) player.pause();
    if (!hand.active()) shownBefore = player.time;
    hand.want(intent);
  };
  const chosen = (): number => {
    const key = page.chosenKey();
    if (key < 0) tell({ kind: "refused", words: whyNot() ?? NO_KEY });
    return key;
  };
  const restsAt = (key: number): boolean => {
    const open = page.shown();
    const time = open?.keyTimes[key];
    const frame = open ? open.stage.rate.den / open.stage.rate.num : 0;
    return time !== undefined && Math.abs(player.time - time) < frame / 2;
  };

  return {
    object,
    pane: {
      key() {
        const key = page.chosenKey();
        if (key < 0 || player.playing || whyNot() !== undefined) return -1;
        return hand.active() || restsAt(key) ? key : -1;
      },
      base: hand.base,
      want,
      release: hand.release,
      cancel: hand.cancel,
      listen: (listener) => void listeners.push(listener),
    },
    load: hand.load,
    receive: hand.receive,
    active: hand.active,
    release: hand.release,
    cancel() {
      if (!hand.active()) return;
      hand.cancel();
      player.seek(shownBefore);
    },
    dragKey(key, time) {
      want({ kind: "time", key, time });
    },
    stepKey(frames) {
      const key = chosen();
      const open = page.shown();
      if (key < 0 || open === undefined) return;
      const { num, den } = open.stage.rate;
      want({ kind: "time", key, time: open.keyTimes[key] + (frames * den) / num });
      if (!page.bridge.writes) return;
      page.say(timecodeOf(open, open.keyTimes[key]));
    },
    nudge(axis, by) {
      const key = chosen();
      if (0 <= key) want({ kind: "axis", key, axis, by });
    },
  };
}
