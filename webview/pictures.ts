import { Color, SRGBColorSpace, Vector3 } from "three";
import type { StagePicture } from "../protocol/stage.ts";
import { element } from "./element.ts";
import { createLensOverlay } from "./lens/lens-overlay.ts";
import { createLensPicture } from "./lens/lens-picture.ts";
import { createLensReadout } from "./lens/lens-readout.ts";
import type { Palette } from "./palette.ts";
import { createEye } from "./stage/eye.ts";
import { createLabels, type Label } from "./stage/labels.ts";
import { createLegend } from "./stage/legend.ts";
import { openSurface } from "./stage/renderer.ts";
import { createRulers } from "./stage/rulers.ts";
import { createStageScene } from "./stage/stage-scene.ts";
import { steer } from "./stage/steering.ts";
import { basisOf, distanceOf, fitted, OPENING } from "./stage/viewpoint.ts";
import { SIDES, type Pictures as Shown, type Side, type Viewpoint } from "./state.ts";
import type { Moment } from "./take/moment.ts";
import type { OpenTake } from "./take/open-take.ts";

/** Space around the lens picture, both sides together [px]. */
const PADDING = 24;
/** How near a click must be to a key's mark [px]. */
const REACH = 14;

export interface PicturesEvents {
  /** The pictures no longer show what they should: draw when it suits. */
  stale(): void;
  keyClicked(key: number): void;
  viewChanged(): void;
  /** WebGL went away or came back. */
  surfaceChanged(): void;
}

/** The stage and the view through the lens: their place in the page and their drawing. */
export interface Pictures {
  readonly root: HTMLElement;
  readonly scene: HTMLElement;
  load(open: OpenTake | undefined): void;
  /** Draws both views of one instant now. */
  draw(moment: Moment): void;
  paint(palette: Palette): void;
  show(shown: Shown): void;
  setSide(side: Side): void;
  fit(): void;
  restoreViews(side: Side, views: Partial<Record<Side, Viewpoint>>): void;
  views(): Partial<Record<Side, Viewpoint>>;
  chooseKey(key: number): void;
  /** In place of the scene; empty for none. The view through the lens keeps its marks when only WebGL is missing. */
  notice(text: string, covers: "all" | "scene"): void;
  surface(): "alive" | "lost" | "none";
  drawnCount(): number;
  report(): StagePicture | undefined;
}

interface Rectangle {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export function createPictures(events: PicturesEvents): Pictures {
  const canvas = element("canvas", { "aria-hidden": "true" });
  const labels = createLabels();
  const rulers = createRulers();
  const legend = createLegend();
  const scene = element(
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
  const overlay = createLensOverlay();
  const readout = createLensReadout();
  const frame = element(
    "div",
    { class: "lens-frame", role: "img", "aria-label": "View through the lens" },
    overlay.object,
  );
  const lens = element("section", { class: "through-lens", "aria-label": "Through the lens" }, frame, readout.object);
  const message = element("p", {});
  const notice = element("div", { class: "notice", role: "status", hidden: true }, message);
  const root = element(
    "div",
    { class: "pictures", "data-shown": "both" },
    canvas,
    element("section", { class: "scene-space", "aria-label": "Stage" }, scene, legend),
    lens,
    notice,
  );

  const surface = openSurface(canvas, events.surfaceChanged);
  const stage = createStageScene();
  const lensPicture = createLensPicture();
  const eye = createEye();
  const views: Partial<Record<Side, Viewpoint>> = {};
  let fits: Partial<Record<Side, { readonly aspect: number; readonly view: Viewpoint }>> = {};
  let side: Side = "free";
  let open: OpenTake | undefined;
  let boxes: { scene: Rectangle; lens: Rectangle; width: number; height: number } | undefined;
  let last: { moment: Moment; time: number } | undefined;
  let drawn = 0;
  let keyPixels: Float32Array = new Float32Array(0);

  const aspect = (): number => {
    const box = measure().scene;
    return box.height > 0 ? box.width / box.height : 1;
  };
  // Until somebody looks elsewhere a view fits its picture, whatever shape that takes; an edit moves no view.
  const view = (): Viewpoint => {
    const chosen = views[side];
    if (chosen) return chosen;
    const before = fits[side];
    if (before && Math.abs(before.aspect / aspect() - 1) < 0.01) return before.view;
    const fit = { aspect: aspect(), view: fitted(side, stage.bounds(), aspect()) };
    if (open) fits[side] = fit;
    return fit.view;
  };

  const measure = (): NonNullable<typeof boxes> => {
    if (boxes) return boxes;
    const outer = root.getBoundingClientRect();
    const inner = (target: Element): Rectangle => {
      const box = target.getBoundingClientRect();
      return { left: box.left - outer.left, top: box.top - outer.top, width: box.width, height: box.height };
    };
    return (boxes = { scene: inner(scene), lens: inner(frame), width: outer.width, height: outer.height });
  };
  const sizeFrame = (): void => {
    // Beside the stage the picture leaves room for the readout below it.
    const used = readout.object.offsetHeight + PADDING;
    const room = { width: lens.clientWidth - PADDING, height: Math.max(0, lens.clientHeight - used) };
    const optics = open?.stage.optics;
    const shape = optics ? (optics.sensor[0] * optics.squeeze) / optics.sensor[1] : 16 / 9;
    const width = Math.floor(Math.min(room.width, room.height * shape));
    frame.style.width = `${width}px`;
    frame.style.height = `${Math.floor(width / shape)}px`;
    boxes = undefined;
  };
  const resized = new ResizeObserver(() => {
    sizeFrame();
    events.stale();
  });
  resized.observe(root);
  resized.observe(lens);
  resized.observe(scene);

  steer(scene, {
    side: () => side,
    view,
    change(next) {
      views[side] = next;
      events.viewChanged();
      events.stale();
    },
    click(x, y) {
      const key = keyAt(keyPixels, x, y);
      if (key >= 0) events.keyClicked(key);
    },
    hover(x, y) {
      scene.classList.toggle("on-key", keyAt(keyPixels, x, y) >= 0);
    },
  });

  const project = (places: ArrayLike<number>, box: Rectangle): Float32Array => {
    const point = new Vector3();
    const pixels = new Float32Array((places.length / 3) * 2);
    for (let i = 0; i < places.length / 3; i++) {
      point.set(places[3 * i], places[3 * i + 1], places[3 * i + 2]).applyMatrix4(eye.current().matrixWorldInverse);
      const behind = side === "free" && point.z > -1e-3;
      point.applyMatrix4(eye.current().projectionMatrix);
      pixels[2 * i] = behind ? NaN : ((point.x + 1) / 2) * box.width;
      pixels[2 * i + 1] = behind ? NaN : ((1 - point.y) / 2) * box.height;
    }
    return pixels;
  };

  const drawScene = (moment: Moment, box: Rectangle): void => {
    eye.set(side, view(), box.width / box.height);
    const current = eye.current();
    if (surface?.alive()) {
      enter(box);
      const ratio = surface.ratio();
      stage.setPicture(box.width * ratio, box.height * ratio, ratio);
      surface.renderer.render(stage.scene, current);
    }
    rulers.draw(side, view(), box.width, box.height);
    keyPixels = project(stage.keyPlaces(), box);
    labels.place(surface?.alive() ? labelsOf(moment, box) : [], box.width, box.height);
  };
  const enter = (box: Rectangle): void => {
    if (!surface) return;
    const bottom = measure().height - box.top - box.height;
    surface.renderer.setViewport(box.left, bottom, box.width, box.height);
    surface.renderer.setScissor(box.left, bottom, box.width, box.height);
    surface.renderer.setScissorTest(true);
  };
  const labelsOf = (moment: Moment, box: Rectangle): Label[] => {
    if (open === undefined) return [];
    const made: Label[] = [];
    const add = (
      names: readonly string[],
      pixels: Float32Array,
      kind: (i: number) => Label["kind"],
      rank: number,
    ): void => {
      names.forEach((text, i) => {
        const shown = kind(i);
        const first = shown === "aimed" || shown === "key-chosen" ? 100 : 0;
        made.push({ text, kind: shown, rank: rank + first, x: pixels[2 * i], y: pixels[2 * i + 1] });
      });
    };
    const { keys, targets, turntables, marks } = open.stage;
    add(targets.map((one) => one.name), project(moment.targets, box), (i) => (i === moment.aimed ? "aimed" : "target"), 5); // prettier-ignore
    add(
      keys.map((one) => one.label),
      keyPixels,
      (i) => (i === chosenKey ? "key-chosen" : "key"),
      4,
    );
    add(turntables.map((one) => one.name), project(turntables.flatMap((one) => one.at), box), () => "turntable", 2); // prettier-ignore
    add(
      marks.map((one) => one.name),
      project(
        marks.flatMap((one) => one.at),
        box,
      ),
      () => "mark",
      1,
    );
    return made;
  };
  let chosenKey = -1;

  return {
    root,
    scene,
    load(next) {
      open = next;
      if (next) stage.load(next);
      else stage.clear();
      overlay.load(next?.stage);
      last = undefined;
      sizeFrame();
    },
    draw(moment) {
      if (open === undefined) return;
      const all = measure();
      stage.update(moment);
      if (surface?.alive()) {
        surface.fit(all.width, all.height);
        surface.renderer.info.autoReset = false;
        surface.renderer.info.reset();
        surface.renderer.setScissorTest(false);
        surface.renderer.clear();
        surface.renderer.shadowMap.needsUpdate = true;
        drawn += 1;
      }
      if (all.scene.width > 0 && all.scene.height > 0) drawScene(moment, all.scene);
      if (all.lens.width > 0 && all.lens.height > 0) {
        if (surface?.alive()) {
          enter(all.lens);
          const ratio = surface.ratio();
          const size = [all.lens.width * ratio, all.lens.height * ratio] as const;
          lensPicture.draw(surface.renderer, stage.scene, open.stage.optics, moment, size);
        }
        overlay.draw(moment, all.lens.width, all.lens.height);
        readout.update(open, moment);
      }
      last = { moment, time: moment.t };
    },
    paint(palette) {
      stage.paint(palette);
      const paper = palette.colour.paper;
      surface?.renderer.setClearColor(new Color().setRGB(paper[0], paper[1], paper[2], SRGBColorSpace), 1);
    },
    show(shown) {
      root.dataset.shown = shown;
      sizeFrame();
    },
    setSide(next) {
      side = next;
      events.viewChanged();
    },
    fit() {
      const free = views.free;
      fits = {};
      delete views[side];
      // Fitting keeps the direction that somebody turned to.
      if (side === "free" && free) views.free = fitted("free", stage.bounds(), aspect(), free);
      events.viewChanged();
    },
    restoreViews(restored, from) {
      side = restored;
      for (const name of SIDES) delete views[name];
      Object.assign(views, from);
      fits = {};
    },
    views: () => ({ ...views }),
    chooseKey(key) {
      chosenKey = key;
      stage.chooseKey(key);
    },
    notice(text, covers) {
      message.textContent = text;
      notice.hidden = text === "";
      root.dataset.notice = text === "" ? "" : covers;
    },
    surface: () => (surface === undefined ? "none" : surface.alive() ? "alive" : "lost"),
    drawnCount: () => drawn,
    report() {
      if (last === undefined || open === undefined) return undefined;
      const all = measure();
      const outer = root.getBoundingClientRect();
      const onPage = (box: Rectangle): number[] => [box.left + outer.left, box.top + outer.top, box.width, box.height];
      const basis = basisOf(view());
      const far = side === "free" ? distanceOf(view()) : 0;
      return {
        time: last.time,
        calls: surface?.renderer.info.render.calls ?? 0,
        built: stage.built(),
        stage: {
          rectangle: onPage(all.scene),
          kind: side === "free" ? "perspective" : "parallel",
          eye: [0, 1, 2].map((k) => view().centre[k] + far * basis.back[k]),
          centre: [...view().centre],
          right: [...basis.right],
          up: [...basis.up],
          opening: side === "free" ? OPENING : view().span,
          links: [...project(stage.jointPlaces(), all.scene)],
          keys: [...keyPixels],
        },
        lens: all.lens.width > 0 ? { rectangle: onPage(all.lens), ...overlay.drawn() } : undefined,
      };
    },
  };
}

function keyAt(pixels: Float32Array, x: number, y: number): number {
  let nearest = -1;
  let reach = REACH;
  for (let i = 0; i < pixels.length / 2; i++) {
    const away = Math.hypot(pixels[2 * i] - x, pixels[2 * i + 1] - y);
    if (away < reach) [nearest, reach] = [i, away];
  }
  return nearest;
}
