import { svg } from "../element.ts";
import type { LensLayer } from "./lens-layer.ts";

const ROWS = [
  { name: "soft-front", words: "in front", hatch: "M0 10L10 0M-2 4L4 -2M6 12L12 6" },
  { name: "sharp", words: "sharp", hatch: "" },
  { name: "soft-behind", words: "behind", hatch: "M0 0L10 10M6 -2L12 4M-2 6L4 12" },
] as const;
const STEP = 62;

/** What the tints of surfaces mean: in front of, inside and behind the depth of field. */
export function createLensKey(): LensLayer {
  const signs = ROWS.map(({ name, words, hatch }, i) =>
    svg(
      "g",
      { class: name, transform: `translate(${i * STEP} 0)` },
      svg("svg", { width: 10, height: 10 }, svg("rect", { width: 10, height: 10 }), svg("path", { d: hatch })),
      svg("text", { x: 14, y: 9 }, words),
    ),
  );
  const object = svg("g", { class: "sharp-key", transform: "translate(6 6)" }, ...signs);
  return {
    object,
    load: () => undefined,
    draw: () => undefined,
    drawn: () => ({}),
  };
}
