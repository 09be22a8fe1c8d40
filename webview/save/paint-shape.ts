/** Paints one SVG shape or text as it is styled, in the page's px. Patterns and gradients are left out. */
export function paintShape(
  pen: CanvasRenderingContext2D,
  shape: SVGGeometryElement | SVGTextElement,
  style: CSSStyleDeclaration,
): void {
  const place = shape.getScreenCTM();
  if (place === null) return;
  pen.save();
  pen.transform(place.a, place.b, place.c, place.d, place.e, place.f);
  pen.lineWidth = parseFloat(style.strokeWidth) || 0;
  pen.lineJoin = style.strokeLinejoin as CanvasLineJoin;
  pen.lineCap = style.strokeLinecap as CanvasLineCap;
  pen.setLineDash(style.strokeDasharray === "none" ? [] : style.strokeDasharray.split(",").map(parseFloat));
  const stroked = isColour(style.stroke) && pen.lineWidth > 0;
  const filled = isColour(style.fill) && !(shape instanceof SVGLineElement);
  if (stroked) pen.strokeStyle = style.stroke;
  if (filled) pen.fillStyle = style.fill;
  const alpha = pen.globalAlpha;
  const fill = (draw: () => void) => (): void => {
    pen.globalAlpha = alpha * Number(style.fillOpacity);
    draw();
  };
  const stroke = (draw: () => void) => (): void => {
    pen.globalAlpha = alpha * Number(style.strokeOpacity);
    draw();
  };
  const strokes = shape instanceof SVGTextElement ? textOf(pen, shape, style) : outlineOf(pen, shape);
  const steps = [...(filled ? [fill(strokes.fill)] : []), ...(stroked ? [stroke(strokes.stroke)] : [])];
  if (style.paintOrder.startsWith("stroke")) steps.reverse();
  for (const step of steps) step();
  pen.restore();
}

interface Strokes {
  fill(): void;
  stroke(): void;
}

function textOf(pen: CanvasRenderingContext2D, text: SVGTextElement, style: CSSStyleDeclaration): Strokes {
  const words = text.textContent;
  const at = (list: SVGLengthList): number => (list.numberOfItems > 0 ? list.getItem(0).value : 0);
  const [x, y] = [at(text.x.baseVal) + at(text.dx.baseVal), at(text.y.baseVal) + at(text.dy.baseVal)];
  pen.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
  pen.textAlign = style.textAnchor === "middle" ? "center" : style.textAnchor === "end" ? "right" : "left";
  pen.textBaseline = style.dominantBaseline === "middle" || style.dominantBaseline === "central" ? "middle" : "alphabetic"; // prettier-ignore
  return { fill: () => pen.fillText(words, x, y), stroke: () => pen.strokeText(words, x, y) };
}

function outlineOf(pen: CanvasRenderingContext2D, shape: SVGGeometryElement): Strokes {
  const path = pathOf(shape);
  return { fill: () => pen.fill(path), stroke: () => pen.stroke(path) };
}

function pathOf(shape: SVGGeometryElement): Path2D {
  if (shape instanceof SVGPathElement) return new Path2D(shape.getAttribute("d") ?? "");
  const path = new Path2D();
  const number = (name: string): number => Number(shape.getAttribute(name) ?? 0);
  if (shape instanceof SVGRectElement) path.rect(number("x"), number("y"), number("width"), number("height"));
  else if (shape instanceof SVGLineElement) {
    path.moveTo(number("x1"), number("y1"));
    path.lineTo(number("x2"), number("y2"));
  } else if (shape instanceof SVGCircleElement) path.arc(number("cx"), number("cy"), number("r"), 0, 2 * Math.PI);
  else if (shape instanceof SVGEllipseElement) {
    path.ellipse(number("cx"), number("cy"), number("rx"), number("ry"), 0, 0, 2 * Math.PI);
  } else if (shape instanceof SVGPolylineElement || shape instanceof SVGPolygonElement) {
    for (let i = 0; i < shape.points.numberOfItems; i++) {
      const { x, y } = shape.points.getItem(i);
      path.lineTo(x, y);
    }
    if (shape instanceof SVGPolygonElement) path.closePath();
  }
  return path;
}

function isColour(paint: string): boolean {
  return paint !== "none" && !paint.startsWith("url(");
}
