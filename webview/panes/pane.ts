import type { StagePane } from "../../protocol/stage.ts";
import { element, setAttributes } from "../element.ts";
import type { GhostMark } from "../../protocol/stage-ghost.ts";
import type { GhostPlay } from "../ghost/ghost-play.ts";
import { createLensView, type LensView } from "../lens/lens-view.ts";
import type { PlateStore } from "../lens/plate-store.ts";
import type { Overlays } from "../overlays.ts";
import type { Rectangle, Surface } from "../stage/renderer.ts";
import { createSceneView, type SceneView } from "../stage/scene-view.ts";
import type { StageScene } from "../stage/stage-scene.ts";
import { createViews } from "../stage/views.ts";
import type { PaneHand } from "../shape/pane-hand.ts";
import { icon } from "../strip/icons.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { PANE_KINDS, PANE_NAMES, type PaneKind } from "./pane-kind.ts";
import type { Viewpoints } from "./pane-set.ts";

export interface PaneEvents {
  /** What shapes the chosen key in a pane. */
  readonly hand: PaneHand;
  /** The picture no longer shows what it should. */
  stale(): void;
  keyClicked(pane: number, key: number): void;
  viewChanged(): void;
  kindChosen(pane: number, kind: PaneKind): void;
  activated(pane: number): void;
  fit(pane: number): void;
}

/** One picture with its header: the stage from a side, or the view through the lens. */
export interface Pane {
  readonly object: HTMLElement;
  kind(): PaneKind;
  /** Where its picture goes now. */
  place(): HTMLElement;
  viewpoints(): Viewpoints;
  show(kind: PaneKind, viewpoints: Viewpoints): void;
  /** @param among Whether there are others, so that it is worth saying. */
  setActive(active: boolean, among: boolean): void;
  setOverlays(overlays: Overlays): void;
  /** What the move is compared with, for the view through the lens. */
  setGhost(play: GhostPlay | undefined): void;
  ghostMarks(): readonly GhostMark[];
  load(open: OpenTake | undefined): void;
  /** Gives the picture its size in the room that the pane has now. */
  layOut(): void;
  /** Shows all of the scene again. */
  fit(): void;
  draw(moment: Moment, box: Rectangle, surface: Surface | undefined): void;
  chooseKey(key: number): void;
  /** What was drawn last. @param rectangle Of the picture, on the page. */
  drawn(rectangle: readonly number[]): Pick<StagePane, "stage" | "lens">;
  /** Where notes about the scene may stand; `undefined` in a view through the lens. */
  scenePlace(): HTMLElement | undefined;
}

/**
 * @param index  Of the pane, from 0.
 * @param scene  What all panes show.
 * @param plates Where the view through the lens has its plate from.
 * @param aspect Width over height of the pane's picture now.
 */
export function createPane(
  index: number,
  scene: StageScene,
  aspect: () => number,
  events: PaneEvents,
  plates: PlateStore,
): Pane {
  const options = PANE_KINDS.map((kind, i) =>
    element("option", { value: kind, title: `${PANE_NAMES[kind]} (${i + 1})` }, PANE_NAMES[kind]),
  );
  const choice = element("select", { "aria-label": `What view ${index + 1} shows` }, ...options);
  const fit = element(
    "button",
    { type: "button", class: "sign", "aria-label": `Fit view ${index + 1}`, title: "Fit the view (F)" },
    icon("fit"),
  );
  const picture = element("div", { class: "pane-picture" });
  const header = element("header", { class: "pane-bar" }, choice, fit);
  const object = element("section", { class: "pane" }, header, picture);
  let open: OpenTake | undefined;
  const views = createViews(() => (open ? scene.bounds() : undefined), aspect);
  let kind: PaneKind = "free";
  let key = -1;
  let uri: string | undefined;
  let overlays: Overlays = new Set();
  let ghost: GhostPlay | undefined;
  // Each is made when it is first shown.
  let sceneView: SceneView | undefined;
  let lensView: LensView | undefined;

  choice.addEventListener("change", () => events.kindChosen(index, choice.value as PaneKind));
  fit.addEventListener("click", () => events.fit(index));
  for (const name of ["focusin", "pointerdown"]) object.addEventListener(name, () => events.activated(index));

  const theScene = (): SceneView => {
    if (sceneView) return sceneView;
    sceneView = createSceneView(scene, views, { ...events, keyClicked: (one) => events.keyClicked(index, one) });
    sceneView.load(open);
    sceneView.chooseKey(key);
    picture.append(sceneView.object);
    return sceneView;
  };
  const theLens = (): LensView => {
    if (lensView) return lensView;
    lensView = createLensView(plates, events.hand);
    lensView.setOverlays(overlays);
    lensView.load(open);
    lensView.setGhost(ghost);
    picture.append(lensView.object);
    return lensView;
  };

  return {
    object,
    kind: () => kind,
    place: () => (kind === "lens" ? theLens() : theScene()).place,
    viewpoints: () => views.chosen(),
    show(next, viewpoints) {
      const held = picture.contains(document.activeElement);
      kind = next;
      views.look(kind === "lens" ? "free" : kind, viewpoints);
      const shown = kind === "lens" ? theLens().object : theScene().object;
      for (const one of picture.children) (one as HTMLElement).hidden = one !== shown;
      sceneView?.lookFrom(views.side());
      choice.value = kind;
      fit.hidden = kind === "lens";
      object.dataset.kind = kind;
      object.setAttribute("aria-label", `View ${index + 1}: ${PANE_NAMES[kind].toLowerCase()}`);
      if (!held || picture.contains(document.activeElement)) return;
      // What had the focus is gone from the page: keys go on meaning this pane.
      (kind === "lens" ? choice : theScene().place).focus();
    },
    setActive(active, among) {
      object.toggleAttribute("data-active", active);
      setAttributes(object, { "aria-current": active && among ? "true" : undefined });
    },
    setOverlays(next) {
      overlays = next;
      lensView?.setOverlays(next);
    },
    setGhost(next) {
      ghost = next;
      lensView?.setGhost(next);
    },
    ghostMarks: () => (kind === "lens" ? (lensView?.ghostMarks() ?? []) : []),
    load(next) {
      open = next;
      if (next && next.stage.uri !== uri) views.forgetFits();
      uri = next?.stage.uri ?? uri;
      sceneView?.load(next);
      lensView?.load(next);
    },
    layOut() {
      if (kind === "lens") theLens().fit();
    },
    fit: () => views.fit(),
    draw(moment, box, surface) {
      if (kind === "lens") theLens().setPasses(scene.rig.passPlay());
      if (kind === "lens") theLens().draw(moment, box, surface, scene.scene);
      else theScene().draw(moment, box, surface);
    },
    chooseKey(next) {
      key = next;
      sceneView?.chooseKey(next);
    },
    drawn(rectangle) {
      if (kind === "lens") return { lens: { rectangle, ...theLens().drawn() } };
      const stage = theScene().drawn();
      return stage ? { stage: { rectangle, ...stage } } : {};
    },
    scenePlace: () => (kind === "lens" ? undefined : theScene().object),
  };
}
