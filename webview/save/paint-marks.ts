import { paintShape } from "./paint-shape.ts";

/**
 * Paints what a part of the page shows as text, boxes and SVG shapes onto a canvas, at the places and in the colours that it
 * has on the screen. The page's policy lets no picture be loaded, so the page can't be drawn as one.
 *
 * @param pen  Its units are CSS px; `left` and `top` are where its origin is on the page.
 */
export function paintMarks(pen: CanvasRenderingContext2D, root: Element, left: number, top: number): void {
  pen.save();
  pen.translate(-left, -top);
  paintTree(pen, root, 1);
  pen.restore();
}

function paintTree(pen: CanvasRenderingContext2D, at: Element, opacity: number): void {
  const style = getComputedStyle(at);
  if (style.display === "none" || !at.checkVisibility()) return;
  const seen = opacity * Number(style.opacity);
  pen.save();
  pen.globalAlpha = seen;
  const box = at.getBoundingClientRect();
  if (style.overflow !== "visible" && box.width > 0) {
    pen.beginPath();
    pen.rect(box.left, box.top, box.width, box.height);
    pen.clip();
  }
  const visible = style.visibility === "visible";
  if (at instanceof SVGGeometryElement || at instanceof SVGTextElement) {
    if (visible) paintShape(pen, at, style);
  } else {
    if (visible && at instanceof HTMLElement) paintBox(pen, box, style);
    if (visible && at instanceof HTMLCanvasElement && at.width > 0)
      pen.drawImage(at, box.left, box.top, box.width, box.height);
    for (const child of at.childNodes) {
      if (child instanceof Element) paintTree(pen, child, seen);
      else if (visible && child instanceof Text && at instanceof HTMLElement) paintText(pen, child, style);
    }
  }
  pen.restore();
}

function paintBox(pen: CanvasRenderingContext2D, box: DOMRect, style: CSSStyleDeclaration): void {
  if (box.width === 0 || box.height === 0) return;
  pen.beginPath();
  pen.roundRect(box.left, box.top, box.width, box.height, parseFloat(style.borderRadius) || 0);
  pen.fillStyle = style.backgroundColor;
  pen.fill();
  // Rings of labels are shadows inside: "COLOUR 0px 0px 0px WIDTHpx inset". Lines around pictures are outlines, outside.
  const ring = /^(.*\)|[#\w]+) 0px 0px 0px ([\d.]+)px inset$/.exec(style.boxShadow);
  if (ring) strokeRing(pen, box, ring[1], Number(ring[2]), 1);
  if (style.outlineStyle === "solid") strokeRing(pen, box, style.outlineColor, parseFloat(style.outlineWidth), -1);
}

/** @param inside 1 for a line inside the box, -1 for one around it. */
function strokeRing(pen: CanvasRenderingContext2D, box: DOMRect, colour: string, width: number, inside: 1 | -1): void {
  const half = (inside * width) / 2;
  pen.strokeStyle = colour;
  pen.lineWidth = width;
  pen.strokeRect(box.left + half, box.top + half, box.width - 2 * half, box.height - 2 * half);
}

/** A text on one line, where the browser put it. */
function paintText(pen: CanvasRenderingContext2D, text: Text, style: CSSStyleDeclaration): void {
  const words = text.data.trim();
  if (words === "") return;
  const range = document.createRange();
  range.selectNodeContents(text);
  const [box] = range.getClientRects();
  if (box === undefined) return;
  pen.font = fontOf(style);
  pen.fillStyle = style.color;
  pen.textAlign = "left";
  pen.textBaseline = "alphabetic";
  pen.fillText(words, box.left, box.top + pen.measureText(words).fontBoundingBoxAscent);
}

function fontOf(style: CSSStyleDeclaration): string {
  return `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
}
