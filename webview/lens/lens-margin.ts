import type { StageMargin } from "../../protocol/stage-lens.ts";
import { setAttributes, setText, svg } from "../element.ts";
import { pixelReading, pixelScale, type LensLayer } from "./lens-layer.ts";

/** Short by less than this is rounding, as for the check [captured px]. */
const SLACK = 1e-3;

/**
 * What has to stay round the delivered crop for stabilising, framing errors and the spread of passes. Where the captured
 * picture has no room for it, a heavy line along the picture's edge says by how much.
 */
export function createLensMargin(): LensLayer {
  const box = svg("rect", {});
  const words = svg("text", {});
  const object = svg("g", { class: "margin", visibility: "hidden" }, box, words);
  let scale: ((width: number, height: number) => readonly [number, number]) | undefined;
  let margin: StageMargin | undefined;
  let crop: readonly [number, number] = [0, 0];
  let rectangle: readonly number[] = [];
  return {
    object,
    load(open) {
      margin = open?.stage.lens?.margin;
      // Where nothing is needed there is nothing to mark.
      if (margin && Math.max(...margin.need) <= 0) margin = undefined;
      setAttributes(object, { visibility: margin ? undefined : "hidden" });
      if (!open || !margin) return;
      const { stage } = open;
      scale = (width, height) => pixelScale(stage, width, height);
      crop = stage.deliver;
      const short = shortOf(margin);
      setAttributes(object, { class: short > SLACK ? "margin short" : "margin" });
      setText(words, marginWords(margin));
    },
    draw(_moment, width, height) {
      if (!margin || !scale) return;
      const [sx, sy] = scale(width, height);
      const half = [(crop[0] / 2 + margin.need[0]) * sx, (crop[1] / 2 + margin.need[1]) * sy];
      const left = Math.max(width / 2 - half[0], 1);
      const top = Math.max(height / 2 - half[1], 1);
      rectangle = [left, top, width - 2 * left, height - 2 * top];
      setAttributes(box, { x: left, y: top, width: rectangle[2], height: rectangle[3] });
      const below = top + rectangle[3];
      // Under the line where the picture leaves room, else over it.
      setAttributes(words, { x: left + 4, y: height - below > 15 ? below + 12 : below - 4 });
    },
    drawn: () => (margin ? { margin: rectangle, marginShort: shortOf(margin) > SLACK } : {}),
  };
}

const shortOf = ({ need, left }: StageMargin): number => Math.max(need[0] - left[0], need[1] - left[1]);

function marginWords(margin: StageMargin): string {
  const { need } = margin;
  const short = shortOf(margin);
  const asked = `margin ${need.map((one) => pixelReading(one).replace(" px", "")).join(" × ")} px`;
  return short > SLACK ? `${asked}, ${pixelReading(short)} short` : asked;
}
