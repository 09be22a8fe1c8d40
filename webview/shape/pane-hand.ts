import type { ShapeIntent } from "../../protocol/stage-shape.ts";
import type { OpenTake } from "../take/open-take.ts";
import type { Told } from "./hand.ts";

/** What a pane needs to let somebody shape the chosen key in it. */
export interface PaneHand {
  /** The key that is chosen and shown at rest, so that it can be shaped; -1 for none. */
  key(): number;
  /** The take that wishes count from: that of the text. */
  base(): OpenTake | undefined;
  want(intent: ShapeIntent): void;
  release(): void;
  cancel(): void;
  /** Calls `tell` with what is said of a wish under way. */
  listen(tell: (told: Told | undefined) => void): void;
}
