import type { StagePicture } from "../../protocol/stage.ts";
import { element, setText } from "../element.ts";
import type { MeshStore } from "../mesh/mesh-store.ts";
import type { Palette } from "../palette.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { createEye } from "./eye.ts";
import { createLabels } from "./labels.ts";
import { createLegend } from "./legend.ts";
import { nearestPixel, projectPlaces } from "./projector.ts";
import type { Rectangle, Surface } from "./renderer.ts";
import { createRulers } from "./rulers.ts";
import { sceneLabels } from "./scene-labels.ts";
import { createStageScene, type StageScene } from "./stage-scene.ts";
import { steer } from "./steering.ts";
import { basisOf, distanceOf, OPENING } from "./viewpoint.ts";
import { createViews, type Views } from "./views.ts";

/** How near a click must be to a key's mark [px]. */
const REACH = 14;

export interface SceneViewEvents {
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
  readonly scene: StageScene;
  readonly views: Views;
  load(open: OpenTake | undefined): void;
  /** Without a living surface only what is text is placed. */
  draw(moment: Moment, box: Rectangle, surface: Surface | undefined): void;
  paint(palette: Palette): void;
  chooseKey(key: number): void;
  /** What was drawn last; `undefined` before. */
  drawn(): Omit<NonNullable<StagePicture["stage"]>, "rectangle"> | undefined;
}

/**
 * @param aspect Width over height of the place now.
 * @param meshes The meshes of the take; what it says of those that can't be drawn is shown.
 */
export function createSceneView(events: SceneViewEvents, aspect: () => number, meshes: MeshStore): SceneView {
  const labels = createLabels();
  const rulers = createRulers();
  const place = element(
    "div",
    {
      class: "scene",
      tabindex: "0",
      role: "application",
      "aria-label": "Stage. Arrow keys turn the view, with Shift they move it, plus and minus zoom.",
    },
    rulers.object,
    labels.layer,
  );
  const notes = element("p", { class: "mesh-notes", role: "status", hidden: true });
  const object = element("section", { class: "scene-space", "aria-label": "Stage" }, place, createLegend(), notes);
  const scene = createStageScene(meshes);
  const eye = createEye();
  let open: OpenTake | undefined;
  let chosenKey = -1;
  let keyPixels: Float32Array = new Float32Array(0);
  let drawn: Omit<NonNullable<StagePicture["stage"]>, "rectangle"> | undefined;
  const views = createViews(() => (open ? scene.bounds() : undefined), aspect);

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
      place.classList.toggle("on-key", nearestPixel(keyPixels, x, y, REACH) >= 0);
    },
  });

  return {
    object,
    place,
    scene,
    views,
    load(next) {
      open = next;
      if (next) scene.load(next);
      else scene.clear();
      const problems = next ? meshes.report().problems : [];
      setText(notes, problems.join(" "));
      notes.hidden = problems.length === 0;
      drawn = undefined;
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
      const pixelsOf = (places: ArrayLike<number>): Float32Array =>
        projectPlaces(camera, places, box.width, box.height);
      keyPixels = pixelsOf(scene.keyPlaces());
      rulers.draw(side, view, box.width, box.height);
      const shown = surface ? sceneLabels(open.stage, moment, chosenKey, keyPixels, pixelsOf, scene.ways()) : [];
      labels.place(shown, box.width, box.height);
      const basis = basisOf(view);
      const away = side === "free" ? distanceOf(view) : 0;
      drawn = {
        kind: side === "free" ? "perspective" : "parallel",
        eye: view.centre.map((part, k) => part + away * basis.back[k]),
        centre: view.centre,
        right: basis.right,
        up: basis.up,
        opening: side === "free" ? OPENING : view.span,
        links: [...pixelsOf(scene.jointPlaces())],
        keys: [...keyPixels],
        ways: [...pixelsOf(scene.ways().flatMap(({ from, to }) => [...from, ...to]))],
      };
    },
    paint: (palette) => scene.paint(palette),
    chooseKey(key) {
      chosenKey = key;
      scene.chooseKey(key);
    },
    drawn: () => drawn,
  };
}
