import { svg } from "../element.ts";
import type { LineLook } from "./line-look.ts";

/** A piece of a line as a graph draws it, beside its name. */
export function lineSign({ stroke, dash }: LineLook): SVGSVGElement {
  return svg(
    "svg",
    { class: "line-sign", viewBox: "0 0 22 4", "aria-hidden": "true" },
    svg("line", { x1: 0, x2: 22, y1: 2, y2: 2, stroke, "stroke-width": 2, "stroke-dasharray": dash.length > 0 ? dash.join(" ") : undefined }), // prettier-ignore
  );
}
