import { paintMarks } from "./paint-marks.ts";

/** A pane's picture as it was drawn just now: a part of a canvas [device px], and what stands over it in the page. */
export interface PaneShot {
  readonly canvas: HTMLCanvasElement;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly ratio: number;
  readonly marks: Element;
  readonly place: Element;
}

/** Room below a picture for a line about it [CSS px]. */
export const CAPTION = 24;

/** Copies a picture with its marks to the top left of a canvas; what does not fit is left out. */
export function copyShot(shot: PaneShot, pen: CanvasRenderingContext2D): void {
  const { canvas, left, top, width, height, ratio } = shot;
  const corner = shot.place.getBoundingClientRect();
  pen.resetTransform();
  pen.drawImage(canvas, left, top, width, height, 0, 0, width, height);
  pen.save();
  pen.beginPath();
  pen.rect(0, 0, width, height);
  pen.clip();
  pen.scale(ratio, ratio);
  paintMarks(pen, shot.marks, corner.left, corner.top);
  pen.restore();
}

/** A strip with words at its left and right end. @param unit Canvas px a CSS px. */
export function paintCaption(
  pen: CanvasRenderingContext2D,
  words: { readonly left: string; readonly right: string },
  strip: { readonly top: number; readonly width: number; readonly unit: number; readonly opacity: number },
): void {
  const style = getComputedStyle(document.body);
  const { top, width, unit, opacity } = strip;
  const height = CAPTION * unit;
  pen.resetTransform();
  pen.globalAlpha = opacity;
  pen.fillStyle = style.backgroundColor;
  pen.fillRect(0, top, width, height);
  pen.globalAlpha = 1;
  pen.fillStyle = style.color;
  pen.font = `${13 * unit}px ${style.fontFamily}`;
  pen.textBaseline = "middle";
  pen.textAlign = "right";
  pen.fillText(words.right, width - 8 * unit, top + height / 2);
  const room = width - 32 * unit - pen.measureText(words.right).width;
  pen.textAlign = "left";
  if (room > 0) pen.fillText(words.left, 8 * unit, top + height / 2, room);
}
