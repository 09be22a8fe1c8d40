import type { Vec2 } from "../../core/base/vec3.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { createGrips } from "./grips.ts";
import type { PaneHand } from "./pane-hand.ts";

/** How far arrow keys move a subject in the picture [shares], and with Shift. */
const STEP = { small: 0.005, large: 0.05 } as const;

export interface LensGrips {
  readonly layer: HTMLElement;
  /** @param width, height CSS px of the picture. */
  draw(open: OpenTake, moment: Moment, width: number, height: number): void;
}

/** A grip on what the chosen key aims at, in the view through the lens: dragging it changes that key's framing. */
export function createLensGrips(hand: PaneHand): LensGrips {
  let size: readonly [number, number] = [1, 1];
  let seen: Vec2 | undefined;
  let at: Vec2 | undefined;
  const want = (place: Vec2): void => {
    at = place;
    const key = hand.key();
    if (0 <= key) hand.want({ kind: "framing", key, at: place });
  };
  const grips = createGrips({
    begin: () => void (at = seen),
    drag: (_, x, y) => want([x / size[0], y / size[1]]),
    step(_, [right, up], __, large) {
      const by = large ? STEP.large : STEP.small;
      if (at) want([at[0] + right * by, at[1] - up * by]);
    },
    release: hand.release,
    cancel: hand.cancel,
  });
  hand.listen(grips.tell);
  return {
    layer: grips.layer,
    draw(open, moment, width, height) {
      size = [width, height];
      const key = hand.key();
      const { aimed, framing } = moment;
      const place: Vec2 = [framing[2 * aimed], framing[2 * aimed + 1]];
      const inside = place.every((share) => -0.2 <= share && share <= 1.2);
      if (key < 0 || aimed < 0 || !inside) {
        grips.place([]);
        return;
      }
      seen = place;
      const subject = open.stage.targets[aimed].name;
      const words = `${subject} in the picture at ${open.stage.keys[key].label}: drag it, or move it with the arrow keys`;
      grips.place([{ name: "subject", label: words, x: place[0] * width, y: place[1] * height }]);
    },
  };
}
