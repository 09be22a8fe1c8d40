import type { StagePicturedScene } from "../../protocol/stage.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import { element } from "../element.ts";
import type { PaneHand } from "../shape/pane-hand.ts";
import { createSceneGrips } from "../shape/scene-grips.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { PANE_NAMES, type Side } from "../panes/pane-kind.ts";
import { createEye } from "./eye.ts";
import { createLabels } from "./labels.ts";
import type { Pointer } from "./overlays/overlay-part.ts";
import { nearestPixel, projectPlaces } from "./projector.ts";
import type { Rectangle, Surface } from "./renderer.ts";
import { createRulers } from "./rulers.ts";
import { sceneLabels } from "./scene-labels.ts";
import type { StageScene } from "./stage-scene.ts";
import { steer } from "./steering.ts";
import { basisOf, distanceOf, OPENING } from "./viewpoint.ts";
import type { Views } from "./views.ts";

/** How near a click must be to a key's mark [px]. */
const REACH = 14;

export interface SceneViewEvents {
  readonly hand: PaneHand;
  /** The picture no longer shows what it should. */
  stale(): void;
  keyClicked(key: number): void;
  viewChanged(): void;
}

/** The stage as it is looked at from outside. */
export interface SceneView {
  readonly object: HTMLElement;
  /** Where its picture goes. */
  readonly place: HTMLElement;
  /** Says from where it is looked at now. */
  lookFrom(side: Side): void;
  load(open: OpenTake | undefined): void;
  /** Without a living surface only what is text is placed. */
  draw(moment: Moment, box: Rectangle, surface: Surface | undefined): void;
  chooseKey(key: number): void;
  /** What was drawn last; `undefined` before. */
  drawn(): Omit<StagePicturedScene, "rectangle"> | undefined;
}

/** @param views From where it is looked at; who has the view changes them too. */
export function createSceneView(scene: StageScene, views: Views, events: SceneViewEvents): SceneView {
  const labels = createLabels();
  const rulers = createRulers();
  const place = element(
    "div",
    {
      class: "scene",
      tabindex: "0",
      role: "application",
    },
    rulers.object,
    labels.layer,
  );
  const object = element("div", { class: "scene-space" }, place);
  const grips = createSceneGrips(events.hand);
  place.append(grips.layer);
  const eye = createEye();
  let open: OpenTake | undefined;
  let pointer: Pointer | undefined;
  let pointed: string | undefined;
  let size = { width: 1, height: 1 };
  const pixelsOf = (places: ArrayLike<number>): Float32Array =>
    projectPlaces(eye.current(), places, size.width, size.height);
  let chosenKey = -1;
  let keyPixels: Float32Array = new Float32Array(0);
  let look: Pick<StagePicturedScene, "kind" | "eye" | "centre" | "right" | "up" | "opening"> | undefined;
  /** Draws again where a mouse comes to something that it gets words of, or leaves it. */
  const point = (at: Pointer | undefined): void => {
    pointer = at;
    const words = scene.labels(pixelsOf, at).find(({ kind }) => kind === "range-pointed")?.text;
    if (words !== pointed) events.stale();
    pointed = words;
  };
  steer(place, {
    side: views.side,
    view: views.current,
    change(view) {
      views.change(view);
      events.viewChanged();
      events.stale();
    },
    click(x, y) {
      const key = nearestPixel(keyPixels, x, y, REACH);
      if (key >= 0) events.keyClicked(key);
    },
    hover(x, y) {
      point({ x, y });
      place.classList.toggle("on-key", nearestPixel(keyPixels, x, y, REACH) >= 0);
    },
  });

  place.addEventListener("pointerleave", () => point(undefined));

  return {
    object,
    place,
    lookFrom(side) {
      const does = side === "free" ? "turn the view, with Shift they move it" : "move the view";
      const words = `Stage, ${PANE_NAMES[side].toLowerCase()} view. Arrow keys ${does}, plus and minus zoom.`;
      place.setAttribute("aria-label", words);
    },
    load(next) {
      open = next;
      look = undefined;
    },
    draw(moment, box, surface) {
      if (open === undefined) return;
      const [side, view] = [views.side(), views.current()];
      eye.set(side, view, box.width / box.height);
      const camera = eye.current();
      if (surface) {
        surface.enter(box);
        const ratio = surface.ratio();
        scene.setPicture(box.width * ratio, box.height * ratio, ratio);
        surface.renderer.render(scene.scene, camera);
      }
      size = box;
      keyPixels = pixelsOf(scene.keyPlaces());
      rulers.draw(side, view, box.width, box.height);
      const shown = surface ? sceneLabels(open.stage, moment, chosenKey, keyPixels, pixelsOf, scene.ways()) : [];
      if (surface) shown.push(...scene.labels(pixelsOf, pointer));
      labels.place(shown, box.width, box.height);
      const basis = basisOf(view);
      const away = side === "free" ? distanceOf(view) : 0;
      look = {
        kind: side === "free" ? "perspective" : "parallel",
        eye: view.centre.map((part, k) => part + away * basis.back[k]),
        centre: view.centre,
        right: basis.right,
        up: basis.up,
        opening: side === "free" ? OPENING : view.span,
      };
      const own = 3 * chosenKey;
      const marks = scene.keyPlaces();
      const chosen: Vec3 | undefined =
        marks.length < own + 3 || own < 0 ? undefined : [marks[own], marks[own + 1], marks[own + 2]];
      grips.draw(open, moment, chosen, look, [box.width, box.height], pixelsOf);
    },
    chooseKey: (key) => void (chosenKey = key),
    // Only what was asked for is gathered: while playing nobody asks.
    drawn: () =>
      look && {
        ...look,
        links: [...pixelsOf(scene.jointPlaces())],
        keys: [...keyPixels],
        overlays: scene.overlayReport(pixelsOf),
        ways: [...pixelsOf(scene.ways().flatMap(({ from, to }) => [...from, ...to]))],
      },
  };
}
