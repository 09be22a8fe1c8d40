import { setAttributes, svg } from "../element.ts";
import type { PassPlay } from "../stage/overlays/pass-play.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";

/** How far the subject may be off in each pass, as circles about it in the view through the lens. */
export interface PassMarks {
  readonly object: SVGSVGElement;
  load(play: PassPlay | undefined): void;
  draw(open: OpenTake, moment: Moment, width: number, height: number): void;
  /** Radii as they are drawn [CSS px]; empty where there are none. */
  drawn(): readonly number[];
}

/** Of a dash with its gap, one unit [px]. */
const PERIOD = 10;

export function createPassMarks(): PassMarks {
  const words = svg("text", {});
  const object = svg("svg", { class: "pass-marks", "aria-hidden": "true" }, words);
  let play: PassPlay | undefined;
  let rounds: SVGEllipseElement[] = [];
  let radii: readonly number[] = [];
  return {
    object,
    load(next) {
      if (next === play) return;
      play = next;
      for (const round of rounds) round.remove();
      rounds = (next?.dashes ?? []).map((dash) => {
        const parts = dash ? [PERIOD * dash[0] * dash[1], PERIOD * dash[0] * (1 - dash[1])] : [];
        return object.appendChild(svg("ellipse", { "stroke-dasharray": parts.join(" ") || undefined }));
      });
      radii = [];
    },
    draw({ stage }, moment, width, height) {
      setAttributes(object, { viewBox: `0 0 ${width} ${height}`, width, height });
      const { resolution } = stage.optics;
      const { aimed, framing } = moment;
      const [x, y] = aimed < 0 ? [NaN, NaN] : [framing[2 * aimed] * width, framing[2 * aimed + 1] * height];
      const times = play?.magnified ?? 1;
      const drawn: number[] = [];
      let most = 0;
      rounds.forEach((round, i) => {
        const { radius } = play!.passes[i];
        const isSeen = Math.abs(x) < 1e5 && Math.abs(y) < 1e5 && radius > 0;
        const [rx, ry] = [((radius * times) / resolution[0]) * width, ((radius * times) / resolution[1]) * height];
        setAttributes(round, isSeen ? { cx: x, cy: y, rx, ry, visibility: undefined } : { visibility: "hidden" });
        if (isSeen) drawn.push(rx);
        if (isSeen && radius > most) most = radius;
      });
      radii = drawn;
      const text =
        most > 0 ? `${most.toFixed(most < 10 ? 1 : 0)} px (95 %)${times > 1 ? `, drawn × ${times}` : ""}` : "";
      if (words.textContent !== text) words.textContent = text;
      const isRight = x > 0.6 * width;
      if (most > 0)
        setAttributes(words, {
          "text-anchor": isRight ? "end" : "start",
          x: x + (isRight ? -8 : 8),
          y: y - ((most * times) / resolution[1]) * height - 4,
        });
    },
    drawn: () => radii,
  };
}
