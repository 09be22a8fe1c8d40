import type { ReachWish } from "../../../protocol/stage-reach.ts";
import { element, setText, svg } from "../../element.ts";
import type { OpenTake } from "../../take/open-take.ts";
import { passWords, type PassPlay } from "./pass-play.ts";
import type { SweptStretch } from "./swept-overlay.ts";

/** What is said of overlays that are found on demand, and the choices that they leave. */
export interface OverlayPanel {
  readonly object: HTMLElement;
  load(open: OpenTake | undefined): void;
  /** @param told Of overlays that are shown; absent for one that is hidden. */
  update(told: OverlayWords): void;
}

export interface OverlayWords {
  readonly swept?: string;
  readonly reach?: { readonly words: string; readonly wish: ReachWish; readonly heights?: readonly [number, number] };
  readonly passes?: { readonly words: string; readonly play?: PassPlay };
}

export interface OverlayChoices {
  /** `undefined` for the whole take. */
  swept(stretch: SweptStretch | undefined): void;
  reach(wish: ReachWish): void;
}

/** Panels narrower than this begin with it folded [px]. */
const NARROW = 480;
/** Of the slider of heights [m]. */
const HEIGHT_STEP = 0.05;

export function createOverlayPanel(choices: OverlayChoices): OverlayPanel {
  const from = element("select", { "aria-label": "Swept from" });
  const to = element("select", { "aria-label": "Swept to" });
  const sweptWords = element("p", { role: "status" });
  const swept = element("div", { hidden: true }, sweptWords, element("span", {}, from, " to ", to));

  const kind = element("select", { "aria-label": "Reach as" }, element("option", { value: "section" }, "At a height"), element("option", { value: "shell" }, "Whole")); // prettier-ignore
  const height = element("input", { type: "range", "aria-label": "Height of the section", step: HEIGHT_STEP });
  const number = element("input", {
    type: "number",
    "aria-label": "Height of the section in metres",
    step: HEIGHT_STEP,
  });
  const heights = element("span", {}, height, number, "m");
  const reachWords = element("p", { role: "status" });
  const reach = element("div", { hidden: true }, reachWords, element("span", {}, kind, heights));

  const passWordsLine = element("p", { role: "status" });
  const list = element("ul", {});
  const passes = element("div", { hidden: true }, passWordsLine, list);

  // Folded where there is little room for a picture beside it.
  const object = element(
    "details",
    { class: "overlay-panel", hidden: true, open: window.innerWidth >= NARROW },
    element("summary", {}, "Overlays"),
    ...[swept, reach, passes],
  );
  let keys = 0;
  let listed: PassPlay | undefined;

  const sweptChosen = (): void => {
    const [a, b] = [Number(from.value), Number(to.value)];
    // A stretch that ends before it begins is the one between the two.
    const [first, last] = a === b ? [a, Math.min(a + 1, keys - 1)] : [Math.min(a, b), Math.max(a, b)];
    choices.swept(first === 0 && last === keys - 1 ? undefined : { from: first, to: last });
  };
  const reachChosen = (at: number): void => {
    if (kind.value === "shell") choices.reach({ kind: "shell" });
    else if (Number.isFinite(at)) choices.reach({ kind: "section", height: at });
  };
  for (const select of [from, to]) select.addEventListener("change", sweptChosen);
  kind.addEventListener("change", () => reachChosen(Number(height.value)));
  height.addEventListener("input", () => void (number.value = height.value));
  height.addEventListener("change", () => reachChosen(Number(height.value)));
  number.addEventListener("change", () => number.value !== "" && reachChosen(Number(number.value)));
  // Keys that change a control are not the stage's.
  object.addEventListener("keydown", (event) => event.key !== "Escape" && event.stopPropagation());

  return {
    object,
    load(open) {
      const labels = open?.stage.keys.map(({ label }) => label) ?? [];
      keys = labels.length;
      const chosen = [from.value, to.value];
      [from, to].forEach((select, end) => {
        const wanted = labels.map((label, i) => element("option", { value: i }, label));
        const same = select.options.length === keys && labels.every((label, i) => select.options[i].text === label);
        if (same) return;
        select.replaceChildren(...wanted);
        select.value =
          chosen[end] !== "" && Number(chosen[end]) < keys ? chosen[end] : String(end === 0 ? 0 : keys - 1);
      });
    },
    update(told) {
      swept.hidden = told.swept === undefined;
      reach.hidden = told.reach === undefined;
      passes.hidden = told.passes === undefined;
      object.hidden = swept.hidden && reach.hidden && passes.hidden;
      setText(sweptWords, told.swept ?? "");
      setText(reachWords, told.reach?.words ?? "");
      setText(passWordsLine, told.passes?.words ?? "");
      if (told.reach) {
        const { wish, heights: range } = told.reach;
        if (range) {
          height.min = String(Math.floor(range[0] / HEIGHT_STEP) * HEIGHT_STEP);
          height.max = String(Math.ceil(range[1] / HEIGHT_STEP) * HEIGHT_STEP);
        }
        kind.value = wish.kind;
        heights.hidden = wish.kind === "shell";
        if (wish.kind === "section" && Number.isFinite(wish.height) && document.activeElement !== number) {
          height.value = number.value = String(wish.height);
        }
      }
      if (told.passes?.play !== listed) {
        listed = told.passes?.play;
        list.replaceChildren(...(listed ? rowsOf(listed) : []));
      }
    },
  };
}

/** Pixels of a unit of dashes. */
const UNIT = 9;

function rowsOf({ passes, dashes, magnified, match }: PassPlay): HTMLElement[] {
  const rows = passes.map((pass, i) => {
    const dash = dashes[i];
    const parts = dash ? `${UNIT * dash[0] * dash[1]} ${UNIT * dash[0] * (1 - dash[1])}` : undefined;
    const line = svg("line", { x1: 1, y1: 5, x2: 31, y2: 5, "stroke-dasharray": parts });
    const how = pass.isOwn ? "" : ", plays as the move";
    return element(
      "li",
      {},
      svg("svg", { width: 32, height: 10, "aria-hidden": "true" }, line),
      `${passWords(pass)}${how}`,
    );
  });
  const circle = `Circles hold the subject in 95 of 100 takes against pass 1${magnified > 1 ? `, drawn ${magnified} times as large` : ""}; ${match} px are allowed.`;
  return [...rows, element("li", {}, circle)];
}
