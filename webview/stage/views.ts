import { SIDES, type Side, type Viewpoint } from "../panes/pane-kind.ts";
import { fitted, type Bounds } from "./viewpoint.ts";

type PerSide<T> = Partial<Record<Side, T>>;

/** From where the stage is looked at, a viewpoint a side. */
export interface Views {
  side(): Side;
  current(): Viewpoint;
  /** Somebody looks elsewhere: from now on the side stays where they look. */
  change(view: Viewpoint): void;
  /** Shows everything again; a free view keeps the direction that it was turned to. */
  fit(): void;
  /** The viewpoints that somebody chose, to be kept. */
  chosen(): PerSide<Viewpoint>;
  look(side: Side, chosen: PerSide<Viewpoint>): void;
  /** What was fitted before is of another move. */
  forgetFits(): void;
}

/** Shapes of a picture this near to one another need no other fit. */
const SAME_SHAPE = 0.01;

/**
 * Until somebody looks elsewhere a view fits its picture, whatever shape that takes; an edit moves no view.
 *
 * @param bounds What a view is fitted to; `undefined` before there is anything.
 * @param aspect Width over height of the picture.
 */
export function createViews(bounds: () => Bounds | undefined, aspect: () => number): Views {
  let side: Side = "free";
  let chosen: PerSide<Viewpoint> = {};
  let fits: PerSide<{ readonly aspect: number; readonly view: Viewpoint }> = {};
  return {
    side: () => side,
    current() {
      const own = chosen[side];
      if (own) return own;
      const before = fits[side];
      if (before && Math.abs(before.aspect / aspect() - 1) < SAME_SHAPE) return before.view;
      const around = bounds();
      const view = fitted(side, around ?? EMPTY, aspect());
      if (around) fits[side] = { aspect: aspect(), view };
      return view;
    },
    change: (view) => void (chosen = { ...chosen, [side]: view }),
    fit() {
      fits = {};
      const { free } = chosen;
      const around = bounds();
      chosen = { ...chosen, [side]: undefined };
      if (side === "free" && free && around) chosen.free = fitted("free", around, aspect(), free);
    },
    chosen: () => Object.fromEntries(SIDES.flatMap((one) => (chosen[one] ? [[one, chosen[one]]] : []))),
    look(next, from) {
      side = next;
      chosen = { ...from };
    },
    forgetFits: () => void (fits = {}),
  };
}

const EMPTY: Bounds = { low: [-1, -1, 0], high: [2, 1, 1.5] };
