import { Color, SRGBColorSpace } from "three";
import type { StagePicture } from "../protocol/stage.ts";
import { element } from "./element.ts";
import { createLensView } from "./lens/lens-view.ts";
import type { MeshStore } from "./mesh/mesh-store.ts";
import type { Palette } from "./palette.ts";
import { openSurface, type Rectangle, type Surface } from "./stage/renderer.ts";
import { createSceneView, type SceneViewEvents } from "./stage/scene-view.ts";
import type { Views } from "./stage/views.ts";
import type { Pictures as Shown } from "./state.ts";
import type { Moment } from "./take/moment.ts";
import type { OpenTake } from "./take/open-take.ts";

export interface PicturesEvents extends SceneViewEvents {
  /** WebGL went away or came back. */
  surfaceChanged(): void;
}

/** The stage and the view through the lens: their places in the page and their drawing on one canvas. */
export interface Pictures {
  readonly root: HTMLElement;
  readonly views: Views;
  load(open: OpenTake | undefined): void;
  /** Draws both views of one instant now. */
  draw(moment: Moment): void;
  paint(palette: Palette): void;
  show(shown: Shown): void;
  chooseKey(key: number): void;
  /** In place of the scene; empty for none. The view through the lens keeps its marks when only WebGL is missing. */
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
  const aspect = (): number => {
    const { width, height } = boxesNow().scene;
    return width > 0 && height > 0 ? width / height : 1;
  };
  const scene = createSceneView(events, aspect, meshes);
  const lens = createLensView();
  const message = element("p", {});
  const notice = element("div", { class: "notice", role: "status", hidden: true }, message);
  const root = element("div", { class: "pictures", "data-shown": "both" }, canvas, scene.object, lens.object, notice);
  const surface = openSurface(canvas, events.surfaceChanged);
  let open: OpenTake | undefined;
  let time: number | undefined;
  let count = 0;

  // Measured once a change of layout: asking while playing would make the browser lay the page out in each picture.
  let boxes: { readonly all: Rectangle; readonly scene: Rectangle; readonly lens: Rectangle } | undefined;
  const boxesNow = (): NonNullable<typeof boxes> => {
    if (boxes) return boxes;
    const outer = root.getBoundingClientRect();
    const inside = (target: Element): Rectangle => {
      const { left, top, width, height } = target.getBoundingClientRect();
      return { left: left - outer.left, top: top - outer.top, width, height };
    };
    return (boxes = { all: inside(root), scene: inside(scene.place), lens: inside(lens.place) });
  };
  const layOut = (): void => {
    lens.fit();
    boxes = undefined;
  };
  const watched = new ResizeObserver(() => {
    layOut();
    events.stale();
  });
  for (const target of [root, scene.place, lens.object]) watched.observe(target);
  const living = (): Surface | undefined => (surface?.alive() ? surface : undefined);

  return {
    root,
    views: scene.views,
    load(next) {
      open = next;
      time = undefined;
      scene.load(next);
      lens.load(next);
      layOut();
    },
    draw(moment) {
      if (open === undefined) return;
      const all = boxesNow();
      scene.scene.update(moment);
      living()?.begin(all.all);
      if (living()) count += 1;
      if (isSeen(all.scene)) scene.draw(moment, all.scene, living());
      if (isSeen(all.lens)) lens.draw(moment, all.lens, living(), scene.scene.scene);
      time = moment.t;
    },
    paint(palette) {
      scene.paint(palette);
      const [r, g, b] = palette.colour.paper;
      surface?.renderer.setClearColor(new Color().setRGB(r, g, b, SRGBColorSpace), 1);
    },
    show(shown) {
      root.dataset.shown = shown;
      layOut();
    },
    chooseKey: (key) => scene.chooseKey(key),
    notice(text, covers) {
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
      const all = boxesNow();
      const onPage = (box: Rectangle): number[] => [box.left + left, box.top + top, box.width, box.height];
      const stage = scene.drawn();
      return {
        time,
        calls: surface?.renderer.info.render.calls ?? 0,
        built: scene.scene.built(),
        meshes: meshes.report(),
        stage: isSeen(all.scene) && stage ? { rectangle: onPage(all.scene), ...stage } : undefined,
        lens: isSeen(all.lens) ? { rectangle: onPage(all.lens), ...lens.drawn() } : undefined,
      };
    },
  };
}

function isSeen(box: Rectangle): boolean {
  return box.width > 0 && box.height > 0;
}
