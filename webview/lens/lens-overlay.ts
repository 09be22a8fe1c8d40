import type { StagePicture, StageTake } from "../../protocol/stage.ts";
import { setAttributes, svg } from "../element.ts";
import type { StageLensShown } from "../../protocol/stage-lens.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { createLensBlur } from "./lens-blur.ts";
import { createLensFraming } from "./lens-framing.ts";
import { createLensKey } from "./lens-key.ts";
import { createLensMargin } from "./lens-margin.ts";
import { createLensMarks } from "./lens-marks.ts";
import { createLensTolerance } from "./lens-tolerance.ts";

export interface LensOverlay {
  readonly object: SVGSVGElement;
  /** Marks for another take. */
  load(open: OpenTake | undefined): void;
  /** @param width, height CSS px of the lens picture. */
  draw(moment: Moment, width: number, height: number): void;
  /** Where the marks stand now, px from the picture's top left: read back from what is drawn. */
  drawn(): Pick<NonNullable<StagePicture["lens"]>, "targets" | "wanted" | "crop" | "shown">;
}

/** Half an arm of a target's cross, and the wanted framing's corners [px]. */
const ARM = 6;
const CORNER = 13;
const CORNER_LEG = 5;
/** Room that a name needs for itself [px]. */
const NAME_HEIGHT = 13;
const NAME_WIDTH = 64;

/** The frame, the delivered crop, the targets and where the framing wants the subject, over the view through the lens. */
export function createLensOverlay(): LensOverlay {
  const crop = svg("rect", { class: "crop" });
  const cropName = svg("text", { class: "crop-name" });
  const wanted = svg("path", { class: "wanted" });
  const marks = svg("g");
  const object = svg("svg", { class: "lens-overlay", "aria-hidden": "true" });
  const layers = [
    createLensFraming(),
    createLensMargin(),
    createLensMarks(),
    createLensTolerance(),
    createLensBlur(),
    createLensKey(),
  ];
  const [framing, margin, surveyed, tolerance, blur, key] = layers.map((layer) => layer.object);
  object.append(framing, margin, crop, cropName, surveyed, tolerance, wanted, marks, blur, key);
  let stage: StageTake | undefined;
  let targets: { mark: SVGGElement; name: SVGTextElement }[] = [];
  /** Names that would lie on one another are left out, but for that of the target aimed at. */
  const nameApart = (moment: Moment, width: number, height: number): void => {
    const taken: [number, number][] = [];
    const order = targets.map((_, k) => k).sort((a, b) => Number(b === moment.aimed) - Number(a === moment.aimed));
    for (const k of order) {
      const [x, y] = [moment.framing[2 * k] * width, moment.framing[2 * k + 1] * height];
      const free = taken.every(([tx, ty]) => Math.abs(ty - y) >= NAME_HEIGHT || Math.abs(tx - x) >= NAME_WIDTH);
      if (free) taken.push([x, y]);
      setAttributes(targets[k].name, { visibility: free ? undefined : "hidden" });
    }
  };
  return {
    object,
    load(open) {
      for (const layer of layers) layer.load(open);
      const next = open?.stage;
      stage = next;
      marks.replaceChildren();
      targets = (next?.targets ?? []).map((target) => {
        const name = svg("text", { x: ARM + 4, y: 4 }, target.name);
        const cross = svg("path", { d: `M${-ARM} 0H${ARM}M0 ${-ARM}V${ARM}` });
        return { mark: marks.appendChild(svg("g", { class: "target" }, cross, name)), name };
      });
      cropName.textContent = next ? `${next.deliver[0]} × ${next.deliver[1]}` : "";
    },
    draw(moment, width, height) {
      if (stage === undefined) return;
      for (const layer of layers) layer.draw(moment, width, height);
      setAttributes(object, { viewBox: `0 0 ${width} ${height}`, width, height });
      const [w, h] = [0, 1].map((k) => Math.min(stage!.deliver[k] / stage!.optics.resolution[k], 1));
      const [cropX, cropY] = [((1 - w) / 2) * width, ((1 - h) / 2) * height];
      setAttributes(crop, { x: cropX, y: cropY, width: w * width, height: h * height });
      // Above the crop where the frame leaves room, else inside.
      setAttributes(cropName, { x: cropX + 4, y: cropY > NAME_HEIGHT + 3 ? cropY - 5 : cropY + NAME_HEIGHT });
      targets.forEach(({ mark, name }, k) => {
        const [x, y] = [moment.framing[2 * k] * width, moment.framing[2 * k + 1] * height];
        const shows = Math.abs(x) < 1e5 && Math.abs(y) < 1e5;
        setAttributes(mark, {
          class: k === moment.aimed ? "target aimed" : "target",
          transform: shows ? `translate(${x} ${y})` : undefined,
          visibility: shows ? undefined : "hidden",
        });
        const flips = x > width - 70;
        setAttributes(name, { "text-anchor": flips ? "end" : "start", x: flips ? -ARM - 4 : ARM + 4 });
      });
      nameApart(moment, width, height);
      const [x, y] = [moment.wanted[0] * width, moment.wanted[1] * height];
      const asked = Number.isFinite(x) && Number.isFinite(y);
      setAttributes(wanted, {
        d: CORNERS,
        transform: asked ? `translate(${x} ${y})` : undefined,
        visibility: asked ? undefined : "hidden",
      });
    },
    drawn: () => ({
      targets: targets.map(({ mark }) => placeOf(mark)),
      wanted: placeOf(wanted),
      crop: ["x", "y", "width", "height"].map((name) => Number(crop.getAttribute(name))),
      shown: Object.assign({}, ...layers.map((layer) => layer.drawn())) as Partial<StageLensShown>,
    }),
  };
}

/** Four corners around the wanted place, open in the middle where the subject is. */
const CORNERS = [[-1, -1], [1, -1], [1, 1], [-1, 1]]
  .map(([x, y]) => `M${x * CORNER} ${y * (CORNER - CORNER_LEG)}V${y * CORNER}H${x * (CORNER - CORNER_LEG)}`)
  .join(""); // prettier-ignore

function placeOf(mark: SVGGraphicsElement): [number, number] | null {
  const at = mark.transform.baseVal.consolidate()?.matrix;
  return at && mark.getAttribute("visibility") !== "hidden" ? [at.e, at.f] : null;
}
