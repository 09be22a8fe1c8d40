import type { Scene } from "three";
import type { StagePicture } from "../../protocol/stage.ts";
import { element } from "../element.ts";
import type { Overlays } from "../overlays.ts";
import type { Rectangle, Surface } from "../stage/renderer.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import type { GhostMark } from "../../protocol/stage-ghost.ts";
import { createGhostMarks } from "../ghost/ghost-marks.ts";
import type { GhostPlay } from "../ghost/ghost-play.ts";
import { createLensGrips } from "../shape/lens-grips.ts";
import type { PaneHand } from "../shape/pane-hand.ts";
import { createLensOverlay } from "./lens-overlay.ts";
import { createLensPlate } from "./lens-plate.ts";
import type { PlateStore } from "./plate-store.ts";
import { createLensPicture } from "./lens-picture.ts";
import type { PassPlay } from "../stage/overlays/pass-play.ts";
import { createPassMarks } from "./pass-marks.ts";
import { createLensReadout } from "./lens-readout.ts";

/** Space around the picture, both sides together [px]. */
const PADDING = 24;
const USUAL_SHAPE = 16 / 9;

/** The view through the lens with its marks, and what the lens does in numbers. */
export interface LensView {
  readonly object: HTMLElement;
  /** Where its picture goes. */
  readonly place: HTMLElement;
  load(open: OpenTake | undefined): void;
  setOverlays(overlays: Overlays): void;
  /** What the move is compared with. */
  setGhost(play: GhostPlay | undefined): void;
  ghostMarks(): readonly GhostMark[];
  /** The passes that play over each other. */
  setPasses(play: PassPlay | undefined): void;
  /** Gives the picture the shape of what the camera records, as large as there is room. */
  fit(): void;
  /** Without a living surface only the marks and numbers are drawn. */
  draw(moment: Moment, box: Rectangle, surface: Surface | undefined, scene: Scene): void;
  drawn(): Omit<NonNullable<StagePicture["lens"]>, "rectangle">;
  dispose(): void;
}

/** @param hand What shapes the chosen key in it; absent: nothing does. */
export function createLensView(plates: PlateStore, hand?: PaneHand): LensView {
  const grips = hand && createLensGrips(hand);
  const overlay = createLensOverlay();
  const plate = createLensPlate(plates);
  const ghost = createGhostMarks();
  const passes = createPassMarks();
  const readout = createLensReadout();
  const picture = createLensPicture();
  const place = element(
    "div",
    { class: "lens-frame", role: hand ? "group" : "img", "aria-label": "View through the lens" },
    plate.object,
    overlay.object,
    ghost.object,
    passes.object,
    grips?.layer,
  );
  const object = element("div", { class: "through-lens" }, place, plate.bar, readout.object);
  let open: OpenTake | undefined;
  return {
    object,
    place,
    load(next) {
      open = next;
      overlay.load(next);
      plate.load(next);
      if (next === undefined) readout.update(undefined);
    },
    setGhost: ghost.load,
    setPasses: passes.load,
    ghostMarks: ghost.drawn,
    // The style hides marks by these names.
    setOverlays: (overlays) => void (object.dataset.overlays = [...overlays].join(" ")),
    fit() {
      const room = {
        width: object.clientWidth - PADDING,
        height: Math.max(0, object.clientHeight - plate.bar.offsetHeight - readout.object.offsetHeight - PADDING),
      };
      const optics = open?.stage.optics;
      const shape = optics ? (optics.sensor[0] * optics.squeeze) / optics.sensor[1] : USUAL_SHAPE;
      const width = Math.max(0, Math.floor(Math.min(room.width, room.height * shape)));
      place.style.width = `${width}px`;
      place.style.height = `${Math.floor(width / shape)}px`;
    },
    draw(moment, box, surface, scene) {
      if (open === undefined) return;
      if (surface) {
        surface.enter(box);
        const size = [box.width * surface.ratio(), box.height * surface.ratio()] as const;
        picture.draw(surface.renderer, scene, open.stage.optics, moment, size, plate.behind());
      }
      plate.draw(box.width, box.height);
      overlay.draw(moment, box.width, box.height);
      grips?.draw(open, moment, box.width, box.height);
      ghost.draw(moment, box.width, box.height);
      passes.draw(open, moment, box.width, box.height);
      readout.update(open, moment);
    },
    drawn() {
      const { shown, ...marks } = overlay.drawn();
      return { ...marks, passRadii: passes.drawn(), shown: { ...shown, plate: plate.drawn() } };
    },
    dispose: () => picture.dispose(),
  };
}
