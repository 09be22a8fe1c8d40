import { Color, SRGBColorSpace } from "three";
import type { StageFinding, StagePane, StagePicture } from "../protocol/stage.ts";
import type { GhostState } from "../protocol/stage-ghost.ts";
import { element } from "./element.ts";
import { createGhostScene } from "./ghost/ghost-scene.ts";
import type { GhostPlay } from "./ghost/ghost-play.ts";
import { createLensView } from "./lens/lens-view.ts";
import type { MeshStore } from "./mesh/mesh-store.ts";
import type { Overlays } from "./overlays.ts";
import type { Palette } from "./palette.ts";
import { createPane, type Pane, type PaneEvents } from "./panes/pane.ts";
import { layoutOf } from "./panes/pane-layout.ts";
import { MOST_PANES, type PaneSet, type Viewpoints } from "./panes/pane-set.ts";
import type { PassesMessage } from "../protocol/stage-passes.ts";
import type { ReachMessage } from "../protocol/stage-reach.ts";
import type { OverlayQuestion } from "./stage/overlays/rig-overlays.ts";
import { createSceneNotes } from "./panes/scene-notes.ts";
import type { PaneShot } from "./save/copy-shot.ts";
import { drawLensStill } from "./save/lens-still.ts";
import { openSurface, type Rectangle, type Surface } from "./stage/renderer.ts";
import { createStageScene } from "./stage/stage-scene.ts";
import type { Moment } from "./take/moment.ts";
import type { OpenTake } from "./take/open-take.ts";

export interface PicturesEvents extends PaneEvents {
  /** An overlay needs what only an editor can answer; absent where there is none. */
  readonly overlayAsked?: (question: OverlayQuestion) => void;
  /** WebGL went away or came back. */
  surfaceChanged(): void;
}

/** The panes: their places in the page and their drawing on one canvas. */
export interface Pictures {
  readonly root: HTMLElement;
  /** What the panes show and from where, as it was kept. */
  arrange(set: PaneSet): void;
  /** Of all panes, spare ones too. */
  viewpoints(): readonly Viewpoints[];
  /** Shows all of the scene again in a pane. */
  fit(pane: number): void;
  load(open: OpenTake | undefined): void;
  /** Draws one instant in all panes now. */
  draw(moment: Moment): void;
  /** Draws an instant, and gives what a pane shows of it until the browser shows it; `undefined` where nothing is drawn. */
  shot(pane: number, moment: Moment): PaneShot | undefined;
  /** Draws what is delivered of an instant onto a canvas, which takes its size. */
  lensStill(moment: Moment, onto: HTMLCanvasElement): void;
  paint(palette: Palette): void;
  setOverlays(overlays: Overlays): void;
  /** What the move is compared with; `undefined` for nothing. */
  setGhost(play: GhostPlay | undefined): void;
  /** What is drawn of it, for tests. */
  ghostDrawn(): Pick<GhostState, "keys" | "links" | "marks">;
  chooseKey(key: number): void;
  /** Outlines the bodies that a finding is about. */
  chooseFinding(finding: StageFinding | undefined): void;
  /** An answer to what an overlay asked for. */
  receive(answer: ReachMessage | PassesMessage): void;
  /** In place of the panes, or over them when only WebGL is missing; empty for none. */
  notice(text: string, covers: "all" | "scene"): void;
  /** What the notice says now. */
  message(): string;
  surface(): "alive" | "lost" | "none";
  /** Pictures drawn so far. */
  count(): number;
  report(): StagePicture | undefined;
}

export function createPictures(events: PicturesEvents, meshes: MeshStore): Pictures {
  const canvas = element("canvas", { "aria-hidden": "true" });
  const scene = createStageScene(meshes, {
    ask: (question) => events.overlayAsked?.(question),
    stale: () => events.stale(),
  });
  const ghostScene = createGhostScene(scene.scene, meshes);
  const notes = createSceneNotes(scene.rig.panel);
  const panes = Array.from({ length: MOST_PANES }, (_, i) =>
    createPane(i, scene, () => aspectOf(i), events, meshes.plate),
  );
  const message = element("p", {});
  const notice = element("div", { class: "notice", role: "status", hidden: true }, message);
  const root = element("div", { class: "pictures" }, canvas, ...panes.map(({ object }) => object), notice);
  const surface = openSurface(canvas, events.surfaceChanged);
  let set: PaneSet | undefined;
  let open: OpenTake | undefined;
  let ghost: GhostPlay | undefined;
  let time: number | undefined;
  let count = 0;
  let overlays: Overlays = new Set();

  // Measured once a change of layout: asking while playing would make the browser lay the page out in each picture.
  let boxes: { readonly all: Rectangle; readonly panes: readonly Rectangle[] } | undefined;
  const boxesNow = (): NonNullable<typeof boxes> => {
    if (boxes) return boxes;
    const outer = root.getBoundingClientRect();
    const inside = (target: Element): Rectangle => {
      const { left, top, width, height } = target.getBoundingClientRect();
      return { left: left - outer.left, top: top - outer.top, width, height };
    };
    return (boxes = {
      all: inside(root),
      panes: panes.slice(0, set?.panes.length ?? 0).map((pane) => inside(pane.place())),
    });
  };
  const aspectOf = (pane: number): number => {
    const { width, height } = boxesNow().panes[pane] ?? NOWHERE;
    return width > 0 && height > 0 ? width / height : 1;
  };
  const seen = (): [Pane, Rectangle, number][] =>
    boxesNow().panes.flatMap((box, i): [Pane, Rectangle, number][] => (isSeen(box) ? [[panes[i], box, i]] : []));
  const layOut = (): void => {
    boxes = undefined;
    if (set === undefined) return;
    const { width, height } = boxesNow().all;
    root.dataset.layout = layoutOf(set.panes.length, width, height);
    for (const pane of panes.slice(0, set.panes.length)) pane.layOut();
    boxes = undefined;
    notes.standIn(firstScene());
    if (root.dataset.notice === "scene") standNotice("scene");
  };
  const firstScene = (): HTMLElement | undefined =>
    seen()
      .map(([pane]) => pane.scenePlace())
      .find((place) => place);
  const standNotice = (covers: "all" | "scene"): void => {
    const place = (covers === "scene" ? firstScene() : undefined) ?? root;
    if (notice.parentElement !== place) place.append(notice);
  };
  const watched = new ResizeObserver(() => {
    layOut();
    events.stale();
  });
  for (const target of [root, ...panes.map(({ object }) => object)]) watched.observe(target);
  const living = (): Surface | undefined => (surface?.alive() ? surface : undefined);

  const own: Pictures = {
    root,
    arrange(next) {
      set = next;
      root.dataset.panes = next.panes.map((kind) => (kind === "lens" ? "lens" : "scene")).join(" ");
      const kinds = [...next.panes, ...next.spare];
      panes.forEach((pane, i) => {
        pane.object.hidden = i >= next.panes.length;
        // A spare pane takes room when it comes.
        if (!pane.object.hidden) pane.show(kinds[i], next.viewpoints[i]);
        pane.setActive(i === next.active, next.panes.length > 1);
      });
      layOut();
    },
    viewpoints: () => panes.map((pane, i) => (i < (set?.panes.length ?? 0) ? pane.viewpoints() : (set?.viewpoints[i] ?? {}))), // prettier-ignore
    fit: (pane) => panes[pane].fit(),
    load(next) {
      open = next;
      time = undefined;
      if (next) scene.load(next);
      else scene.clear();
      // Meshes that came since are its own too.
      ghostScene.load(ghost?.ghost);
      notes.say(next ? meshes.report().problems : []);
      for (const pane of panes) pane.load(next);
      layOut();
    },
    shot(pane, moment) {
      own.draw(moment);
      const box = boxesNow().panes[pane];
      const alive = living();
      if (alive === undefined || box === undefined || !isSeen(box)) return undefined;
      const ratio = alive.ratio();
      const [left, top, width, height] = [box.left, box.top, box.width, box.height].map((part) => Math.round(part * ratio)); // prettier-ignore
      const place = panes[pane].place();
      return { canvas, left, top, width, height, ratio, place, marks: panes[pane].scenePlace() ?? place };
    },
    lensStill(moment, onto) {
      const alive = living();
      if (alive === undefined || open === undefined) return;
      const lens = createLensView(meshes.plate);
      lens.load(open);
      lens.setOverlays(overlays);
      scene.update(moment);
      drawLensStill({ open, moment, surface: alive, scene: scene.scene, lens }, onto);
      lens.dispose();
      own.draw(moment);
    },
    draw(moment) {
      if (open === undefined) return;
      const { all, panes: places } = boxesNow();
      const alive = living();
      scene.update(moment);
      if (ghost) ghostScene.update(ghost.moment, alive?.ratio() ?? 1);
      alive?.begin(all);
      if (alive) count += 1;
      for (let i = 0; i < places.length; i++) if (isSeen(places[i])) panes[i].draw(moment, places[i], alive);
      time = moment.t;
    },
    paint(palette) {
      scene.paint(palette);
      ghostScene.paint(palette);
      const [r, g, b] = palette.colour.paper;
      surface?.renderer.setClearColor(new Color().setRGB(r, g, b, SRGBColorSpace), 1);
    },
    setOverlays(next) {
      overlays = next;
      scene.setOverlays(overlays);
      ghostScene.show(overlays.has("ghost"));
      for (const pane of panes) pane.setOverlays(overlays);
    },
    setGhost(play) {
      ghost = play;
      ghostScene.load(play?.ghost);
      for (const pane of panes) pane.setGhost(play);
    },
    ghostDrawn: () => ({
      ...ghostScene.drawn(),
      marks: panes.find((pane) => pane.ghostMarks().length > 0)?.ghostMarks() ?? [],
    }),
    chooseFinding: (finding) => scene.rig.pair()?.choose(finding),
    receive(answer) {
      if (answer.type === "reach") scene.rig.receiveReach(answer.reach);
      else scene.rig.receivePasses(answer.passes);
    },
    chooseKey(key) {
      scene.chooseKey(key);
      for (const pane of panes) pane.chooseKey(key);
    },
    notice(text, covers) {
      standNotice(covers);
      message.textContent = text;
      notice.hidden = text === "";
      root.dataset.notice = text === "" ? "" : covers;
    },
    message: () => message.textContent,
    surface: () => (surface === undefined ? "none" : surface.alive() ? "alive" : "lost"),
    count: () => count,
    report() {
      if (time === undefined) return undefined;
      const { left, top } = root.getBoundingClientRect();
      const drawn = seen().map(([pane, box, i]): StagePane => {
        const rectangle = [box.left + left, box.top + top, box.width, box.height];
        return { kind: pane.kind(), active: i === set?.active, ...pane.drawn(rectangle) };
      });
      return {
        time,
        calls: surface?.renderer.info.render.calls ?? 0,
        built: scene.built(),
        meshes: meshes.report(),
        stage: drawn.find((pane) => pane.stage)?.stage,
        lens: drawn.find((pane) => pane.lens)?.lens,
        panes: drawn,
      };
    },
  };
  return own;
}

const NOWHERE: Rectangle = { left: 0, top: 0, width: 0, height: 0 };

function isSeen(box: Rectangle): boolean {
  return box.width > 0 && box.height > 0;
}
