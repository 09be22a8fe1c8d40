import type { StageLensShown } from "../../protocol/stage-lens.ts";
import { element, setText } from "../element.ts";
import type { OpenTake } from "../take/open-take.ts";
import type { Backdrop } from "./lens-backdrop.ts";
import type { PlateStore } from "./plate-store.ts";

export interface LensPlate {
  /** The picture, over that of the scene while it is not behind it. */
  readonly object: HTMLCanvasElement;
  /** What a person sets of it. */
  readonly bar: HTMLElement;
  load(open: OpenTake | undefined): void;
  /** @param width, height CSS px of the lens picture. */
  draw(width: number, height: number): void;
  /** What lies behind the scene; `undefined` while it lies over it, or there is no plate. */
  behind(): Backdrop | undefined;
  drawn(): StageLensShown["plate"];
}

/** The plate over or behind the view through the lens, and how much it covers. All views of a page show it alike. */
export function createLensPlate(store: PlateStore): LensPlate {
  const object = element("canvas", { class: "plate", hidden: true });
  const slider = element("input", {
    type: "range",
    min: 0,
    max: 100,
    step: 5,
    "aria-label": "How much the plate covers",
  });
  const share = element("output", {});
  const behind = element("input", { type: "checkbox" });
  const bar = element(
    "div",
    { class: "plate-bar", hidden: true },
    element("label", {}, "Plate", slider, share),
    element("label", {}, behind, "behind the scene"),
  );
  let open: OpenTake | undefined;
  let painted: ImageBitmap | undefined;
  let revision = 0;
  let looks = "";
  let laid = "";
  let box: readonly number[] = [];

  for (const one of [slider, behind]) {
    one.addEventListener("input", () => {
      store.setLook({ opacity: Number(slider.value) / 100, behind: behind.checked });
      follow();
    });
  }
  /** Brings what is shown up to what is set, here or in another view. */
  const follow = (): void => {
    const look = store.look();
    const now = `${look.opacity} ${look.behind} ${revision}`;
    if (now === looks) return;
    looks = now;
    const percent = String(Math.round(look.opacity * 100));
    slider.value = percent;
    slider.setAttribute("aria-valuetext", `${percent} %`);
    setText(share, `${percent} %`);
    behind.checked = look.behind;
    object.style.opacity = String(look.opacity);
    object.hidden = painted === undefined || look.behind;
  };

  return {
    object,
    bar,
    load(next) {
      open = next;
      laid = "";
      const picture = next?.stage.lens?.plate ? store.picture() : undefined;
      if (painted !== picture) {
        painted = picture;
        revision += 1;
        [object.width, object.height] = [picture?.width ?? 0, picture?.height ?? 0];
        if (picture) object.getContext("2d")?.drawImage(picture, 0, 0);
        bar.hidden = picture === undefined;
      }
      follow();
    },
    draw(width, height) {
      if (!open || !painted) return;
      follow();
      const [w, h] = partOf(open).map((part, k) => part * [width, height][k]);
      const now = `${width} ${height} ${w} ${h}`;
      if (now === laid) return;
      laid = now;
      box = [(width - w) / 2, (height - h) / 2, w, h];
      ["left", "top", "width", "height"].forEach((side, k) => object.style.setProperty(side, `${box[k]}px`));
    },
    behind() {
      const look = store.look();
      if (!painted || !open || !look.behind) return undefined;
      return { picture: object, revision, opacity: look.opacity, part: partOf(open) };
    },
    drawn: () => (painted ? { box, ...store.look(), size: [painted.width, painted.height] } : null),
  };
}

/** Share of the captured width and height that the plate is stretched to. */
function partOf({ stage: { deliver, optics, lens } }: OpenTake): readonly [number, number] {
  if (lens?.plate?.fills !== "delivered") return [1, 1];
  return [deliver[0] / optics.resolution[0], deliver[1] / optics.resolution[1]];
}
