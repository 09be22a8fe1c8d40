import { setAttributes, setText, svg } from "../element.ts";
import type { OpenTake } from "../take/open-take.ts";
import { pixelReading, pixelScale, type LensLayer } from "./lens-layer.ts";

/** A region smaller than this on the screen is shown in a glass too [px]. */
const SMALL = 7;
/** Radius of the glass, and of the region in it [px]. */
const GLASS = 34;
const GLASS_REGION = 15;
/** Between the glass and the edges of the picture [px]. */
const INSET = 8;

/**
 * Where the subject may be: the framing asked for and round it what the move's tolerance of the aim leaves. While the subject
 * is out of it the region is dashed and in another colour, and a line leads from its middle to the subject. On the screen
 * the region is often smaller than a dot, so a glass in a corner shows it larger.
 */
export function createLensTolerance(): LensLayer {
  const region = svg("ellipse", {});
  const off = svg("path", { class: "off" });
  const rim = svg("circle", { class: "rim", r: GLASS });
  const large = svg("circle", { class: "region", r: GLASS_REGION });
  const cross = svg("path", { d: `M${-5} 0H5M0 -5V5` });
  const words = svg("text", { "text-anchor": "middle", y: GLASS - 5 });
  const glass = svg("g", { class: "glass" }, rim, large, cross, words);
  const object = svg("g", { class: "tolerance" }, region, off, glass);
  let open: OpenTake | undefined;
  let shown: { readonly at: readonly [number, number]; readonly radii: readonly [number, number]; out: boolean } | null = null; // prettier-ignore
  let said = "";
  return {
    object,
    load: (next) => void (open = next),
    draw(moment, width, height) {
      const most = open?.stage.tolerance?.aim;
      const [across, down] = moment.wanted;
      const asked = open !== undefined && most !== undefined && moment.aimed >= 0 && Number.isFinite(across + down);
      setAttributes(object, { visibility: asked ? undefined : "hidden" });
      shown = null;
      if (!asked) return;
      const [sx, sy] = pixelScale(open!.stage, width, height);
      const [w, h] = open!.stage.optics.resolution;
      const [dx, dy] = [(moment.reached[0] - across) * w, (moment.reached[1] - down) * h];
      const miss = Math.hypot(dx, dy);
      const out = !(miss <= most!);
      shown = { at: [across * width, down * height], radii: [most! * sx, most! * sy], out };
      setAttributes(object, { class: out ? "tolerance out" : "tolerance" });
      setAttributes(region, { cx: shown.at[0], cy: shown.at[1], rx: shown.radii[0], ry: shown.radii[1] });
      const leads = out && Number.isFinite(miss);
      setAttributes(off, {
        d: leads ? `M${shown.at[0]} ${shown.at[1]}l${dx * sx} ${dy * sy}` : undefined,
        visibility: leads ? undefined : "hidden",
      });
      drawGlass(dx, dy, miss, most!, width, height);
    },
    drawn: () => ({ tolerance: shown, glass: shown && glass.getAttribute("visibility") !== "hidden" ? said : null }),
  };

  function drawGlass(dx: number, dy: number, miss: number, most: number, width: number, height: number): void {
    const small = Math.max(...shown!.radii) < SMALL && width > 8 * GLASS;
    setAttributes(glass, { visibility: small ? undefined : "hidden" });
    if (!small) return;
    const isRight = shown!.at[0] > width / 2 && shown!.at[1] > height / 2;
    const x = isRight ? INSET + GLASS : width - INSET - GLASS;
    setAttributes(glass, { transform: `translate(${x} ${height - INSET - GLASS})` });
    // Beyond the rim it stands at the rim, on the side where it is.
    const scale = GLASS_REGION / most;
    const inside = Math.min(1, (GLASS - 7) / (miss * scale));
    const seen = Number.isFinite(miss);
    setAttributes(cross, {
      transform: seen ? `translate(${dx * scale * inside} ${dy * scale * inside})` : undefined,
      visibility: seen ? undefined : "hidden",
    });
    said = miss <= most ? `±${pixelReading(most)}` : seen ? `${pixelReading(miss)} off` : "not seen";
    setText(words, said);
  }
}
