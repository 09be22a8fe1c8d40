import type { Scene } from "three";
import { element } from "../element.ts";
import type { LensView } from "../lens/lens-view.ts";
import type { Surface } from "../stage/renderer.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { paintMarks } from "./paint-marks.ts";

/** What is drawn at once [px]: more costs memory that a graphics card may not have. */
const TILE = 4096;
/** Width of the frame that the marks are laid out in [CSS px]: they keep their share of the picture at any resolution. */
const MARKS_WIDTH = 960;

/** px of the delivered picture, the squeeze of the lens undone. */
export function deliveredSize({ stage: { deliver, optics } }: OpenTake): readonly [number, number] {
  return [Math.round(deliver[0] * optics.squeeze), deliver[1]];
}

export interface LensStillParts {
  readonly open: OpenTake;
  readonly moment: Moment;
  readonly surface: Surface;
  readonly scene: Scene;
  /** One of its own, that stands nowhere else. */
  readonly lens: LensView;
}

/** The view through the lens at the resolution that is delivered, with its marks. The canvas of the page must be drawn anew after. */
export function drawLensStill({ open, moment, surface, scene, lens }: LensStillParts, onto: HTMLCanvasElement): void {
  const { optics } = open.stage;
  const [width, height] = deliveredSize(open);
  const captured = [Math.round(optics.resolution[0] * optics.squeeze), optics.resolution[1]];
  const [left, top] = [(captured[0] - width) / 2, (captured[1] - height) / 2];
  [onto.width, onto.height] = [width, height];
  const pen = onto.getContext("2d");
  if (pen === null) throw new Error(`This editor has no canvas of ${width} × ${height} px.`);
  for (let y = 0; y < height; y += TILE) {
    for (let x = 0; x < width; x += TILE) {
      surface.beginApart(Math.min(TILE, width - x), Math.min(TILE, height - y));
      const box = { left: -left - x, top: -top - y, width: captured[0], height: captured[1] };
      lens.draw(moment, box, surface, scene);
      pen.drawImage(surface.renderer.domElement, x, y);
    }
  }
  const apart = element("div", { class: "apart", "aria-hidden": "true" }, lens.place);
  document.body.append(apart);
  const scale = captured[0] / MARKS_WIDTH;
  const marks = { left: 0, top: 0, width: MARKS_WIDTH, height: captured[1] / scale };
  lens.place.style.width = `${marks.width}px`;
  lens.place.style.height = `${marks.height}px`;
  lens.draw(moment, marks, undefined, scene);
  const frame = lens.place.getBoundingClientRect();
  pen.setTransform(scale, 0, 0, scale, -left, -top);
  paintMarks(pen, lens.place, frame.left, frame.top);
  pen.resetTransform();
  apart.remove();
}
