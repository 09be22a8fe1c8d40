import type { ShapeAnswer, ShapeIntent, ShapeWish, StageStop } from "../../protocol/stage-shape.ts";
import type { OpenTake } from "../take/open-take.ts";
import { patchedTake } from "./patched-take.ts";

/** What there is to say of a wish: what would be written, where it stops, what was written, why it is not. */
export interface Told {
  readonly kind: "says" | "stops" | "made" | "refused";
  readonly words: string;
  readonly stop?: StageStop;
}

export interface HandEvents {
  send(wish: ShapeWish): void;
  /** Shows how the move would go. @param key The one that is shaped. */
  show(open: OpenTake, key: number): void;
  /** Shows the move of the text again. */
  back(): void;
  told(told: Told): void;
  /** What was wanted is in the text now, and this is its take. */
  wrote(intent: ShapeIntent, open: OpenTake): void;
}

/** A wish from its first event until it is written or given up. */
export interface Hand {
  /** The take of the text, whenever there is another; a wish under way goes on from it. */
  load(open: OpenTake | undefined): void;
  /** The take that wishes count from. */
  base(): OpenTake | undefined;
  /** What is wanted now. Only the newest is solved, one at a time. */
  want(intent: ShapeIntent): void;
  /** Writes what is wanted. */
  release(): void;
  /** Gives it up. */
  cancel(): void;
  receive(answer: ShapeAnswer): void;
  /** Whether something is wanted that is not written yet. */
  active(): boolean;
}

export function createHand(events: HandEvents): Hand {
  let base: OpenTake | undefined;
  let wanted: ShapeIntent | undefined;
  /** Whether `wanted` was asked for already, and whether it is to be written. */
  let asked = false;
  let released = false;
  /** Turn of the question that is under way. */
  let waiting: number | undefined;
  /** What is being written. */
  let writing: ShapeIntent | undefined;
  let turn = 0;

  const ask = (phase: ShapeWish["phase"]): void => {
    if (base === undefined || wanted === undefined) return;
    turn += 1;
    waiting = turn;
    asked = true;
    events.send({ turn, version: base.stage.version, phase, intent: wanted });
  };
  const goOn = (): void => {
    if (wanted === undefined || writing) return;
    // A release overtakes a preview that is under way.
    if (released) {
      writing = wanted;
      ask("commit");
      wanted = undefined;
      released = false;
    } else if (waiting === undefined && !asked) ask("preview");
  };
  const giveUp = (): void => {
    wanted = undefined;
    released = false;
    writing = undefined;
    waiting = undefined;
  };

  return {
    load(open) {
      const wrote = writing;
      base = open;
      writing = waiting = undefined;
      asked = false;
      if (open === undefined) giveUp();
      else if (wrote) events.wrote(wrote, open);
      goOn();
    },
    base: () => base,
    want(intent) {
      wanted = intent;
      asked = false;
      released = false;
      goOn();
    },
    release() {
      if (wanted === undefined) return;
      released = true;
      goOn();
    },
    cancel() {
      if (wanted === undefined) return;
      giveUp();
      events.back();
    },
    receive(answer) {
      if (answer.turn !== waiting || base === undefined || answer.uri !== base.stage.uri) return;
      waiting = undefined;
      if ("preview" in answer) {
        if (wanted === undefined) return;
        const { says, stop } = answer.preview;
        events.show(patchedTake(base, answer.preview), wanted.key);
        events.told(stop ? { kind: "stops", words: `${says} ${stop.words}`, stop } : { kind: "says", words: says });
      } else if ("made" in answer) {
        const { made, stop } = answer;
        events.told({ kind: "made", words: stop ? `${made} ${stop.words}` : made, ...(stop ? { stop } : {}) });
        // Where nothing was to be written no other take comes.
        if (answer.unchanged === true) {
          writing = undefined;
          events.back();
        }
      } else {
        const wasWriting = writing !== undefined;
        writing = undefined;
        events.told({ kind: "refused", words: answer.refusal });
        if (wasWriting || released) {
          giveUp();
          events.back();
        }
      }
      goOn();
    },
    active: () => wanted !== undefined,
  };
}
