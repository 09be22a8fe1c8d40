import { setAttributes, svg } from "../element.ts";
import type { OpenTake } from "../take/open-take.ts";
import { pictureOf } from "../take/picture-of.ts";
import type { LensLayer } from "./lens-layer.ts";

const ARM = 4;

/** The surveyed marks of the set where the camera sees them: by them one tells on the set that the rig stands as planned. */
export function createLensMarks(): LensLayer {
  const object = svg("g", { class: "marks" });
  let open: OpenTake | undefined;
  let signs: SVGGElement[] = [];
  let drawn: (readonly [number, number] | null)[] = [];
  const framing = [0, 0];
  return {
    object,
    load(next) {
      open = next;
      object.replaceChildren();
      signs = (next?.stage.marks ?? []).map(({ name }) => {
        const cross = svg("path", { d: `M${-ARM} ${-ARM}L${ARM} ${ARM}M${ARM} ${-ARM}L${-ARM} ${ARM}` });
        return object.appendChild(svg("g", {}, cross, svg("text", { x: ARM + 4, y: 4 }, name)));
      });
      drawn = signs.map(() => null);
    },
    draw(moment, width, height) {
      if (!open) return;
      const { stage } = open;
      for (let k = 0; k < signs.length; k++) {
        const isPictured = pictureOf(stage.optics, moment, stage.marks[k].at, framing);
        const seen = isPictured && framing.every((part) => 0 <= part && part <= 1);
        drawn[k] = seen ? [framing[0] * width, framing[1] * height] : null;
        setAttributes(signs[k], {
          transform: seen ? `translate(${framing[0] * width} ${framing[1] * height})` : undefined,
          visibility: seen ? undefined : "hidden",
        });
      }
    },
    drawn: () => ({ marks: drawn }),
  };
}
