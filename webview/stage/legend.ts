import { element, svg } from "../element.ts";
import { BANDS, type Band } from "../take/share.ts";

const WORDS: Readonly<Record<Band, string>> = {
  calm: "under 60 %",
  busy: "60 to 90 %",
  near: "90 to 100 %",
  over: "over a limit",
};
const WIDTHS: Readonly<Record<Band, number>> = { calm: 2, busy: 4, near: 5.5, over: 6 };

/** Panels narrower than this begin with the legend folded [px]. */
const NARROW = 480;

/** What the path's colour, width and hatching say. */
export function createLegend(): HTMLElement {
  const list = element("ul", {});
  for (const band of BANDS) {
    const line = svg("line", { x1: 1, y1: 5, x2: 23, y2: 5, "stroke-width": WIDTHS[band], class: `share-${band}` });
    const hatch = [5, 11, 17].map((x) => svg("line", { x1: x, y1: 9, x2: x + 4, y2: 1, class: "hatch" }));
    const sign = svg("svg", { width: 24, height: 10, "aria-hidden": "true" }, line, ...(band === "over" ? hatch : []));
    list.append(element("li", {}, sign, WORDS[band]));
  }
  return element(
    "details",
    { class: "legend", open: window.innerWidth >= NARROW },
    element("summary", {}, "Path: highest share of a limit"),
    list,
  );
}
