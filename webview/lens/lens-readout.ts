import { element, setText } from "../element.ts";
import { distanceReading, focalReading } from "../take/reading.ts";
import { createSharpness, sensorOffset, sharpAt } from "../take/sharpness.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { blurOf } from "./lens-blur.ts";
import { pixelReading } from "./lens-layer.ts";

const ROWS = ["Lens", "Iris", "Focus", "Near", "Far", "Aim", "Distance", "Wanted", "Framed", "Blur"] as const;

/** What the lens does now, in words and numbers beside its picture. */
export function createLensReadout(): {
  readonly object: HTMLElement;
  update(open: OpenTake | undefined, moment?: Moment): void;
} {
  const object = element("dl", { class: "readout" });
  const values = new Map<string, HTMLElement>();
  for (const row of ROWS) {
    const value = element("dd", {}, "–");
    values.set(row, value);
    object.append(element("div", {}, element("dt", {}, row), value));
  }
  const sharpness = createSharpness();
  const set = (row: (typeof ROWS)[number], text: string): void => setText(values.get(row) as HTMLElement, text);
  return {
    object,
    update(open, moment) {
      if (open === undefined || moment === undefined) {
        for (const row of ROWS) set(row, "–");
        return;
      }
      const { optics, targets } = open.stage;
      const aimed = moment.aimed;
      set("Lens", `${optics.lensName}, ${focalReading(moment.focal)}`);
      set("Iris", `f/${Number(moment.iris.toFixed(1))}`);
      set("Focus", distanceReading(moment.focus));
      // From the sensor plane as the focus is, not from the entrance pupil.
      sharpAt(optics, moment.focal, moment.iris, moment.focus, sharpness);
      const toSensor = sensorOffset(optics, moment.focal, moment.focus);
      set("Near", distanceReading(sharpness.near + toSensor));
      set("Far", sharpness.far === Infinity ? "∞" : distanceReading(sharpness.far + toSensor));
      set("Aim", aimed < 0 ? "none" : targets[aimed].name);
      set("Distance", aimed < 0 ? "–" : distanceReading(moment.distance[aimed]));
      set("Wanted", framingReading(moment.wanted[0], moment.wanted[1]));
      set("Blur", aimed < 0 ? "–" : blurReading(blurOf(moment, aimed)));
      set("Framed", aimed < 0 ? "–" : framingReading(moment.framing[2 * aimed], moment.framing[2 * aimed + 1]));
    },
  };
}

/** As documents write it: shares from the left and from the top. */
function framingReading(across: number, down: number): string {
  if (!Number.isFinite(across) || !Number.isFinite(down)) return "–";
  return `${across.toFixed(3)}, ${down.toFixed(3)}`;
}

/** How far the subject moves in the picture while the shutter is open. */
const blurReading = (px: number): string => (Number.isFinite(px) ? pixelReading(px) : "–");
