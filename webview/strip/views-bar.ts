import { element } from "../element.ts";
import { PICTURES, SIDES, type Pictures, type Side } from "../state.ts";
import { icon } from "./icons.ts";

export interface ViewsBarEvents {
  side(side: Side): void;
  pictures(pictures: Pictures): void;
  fit(): void;
  help(): void;
}

export interface ViewsBar {
  readonly object: HTMLElement;
  title(text: string, stale: boolean): void;
  choose(side: Side, pictures: Pictures): void;
}

const SIDE_NAMES: Readonly<Record<Side, string>> = { free: "Free", top: "Top", side: "Side", front: "Front" };
const PICTURE_NAMES: Readonly<Record<Pictures, string>> = { stage: "Stage", both: "Both", lens: "Lens" };

/** The move's title, and from where and what one looks at. */
export function createViewsBar(events: ViewsBarEvents): ViewsBar {
  const heading = element("h1", {}, "Stage");
  const stale = element(
    "span",
    { class: "stale", hidden: true, title: "The text cannot be solved as it stands: this is its last good result." },
    "last good result",
  );
  const sides = SIDES.map((side, i) => {
    const made = element("button", { type: "button", title: `${SIDE_NAMES[side]} view (${i + 1})` }, SIDE_NAMES[side]);
    made.addEventListener("click", () => events.side(side));
    return made;
  });
  const pictures = PICTURES.map((one) => {
    const made = element("button", { type: "button", title: "What is shown (V)" }, PICTURE_NAMES[one]);
    made.addEventListener("click", () => events.pictures(one));
    return made;
  });
  const fit = element(
    "button",
    { type: "button", class: "sign", "aria-label": "Fit the view", title: "Fit the view (F)" },
    icon("fit"),
  );
  fit.addEventListener("click", events.fit);
  const help = element(
    "button",
    { type: "button", class: "sign", "aria-label": "Keys and help", title: "Keys and help (?)" },
    icon("help"),
  );
  help.addEventListener("click", events.help);
  const object = element(
    "header",
    { class: "bar" },
    heading,
    stale,
    element("div", { class: "spring" }),
    element("div", { class: "choice sides", role: "group", "aria-label": "View" }, ...sides),
    fit,
    element("div", { class: "choice", role: "group", "aria-label": "Pictures" }, ...pictures),
    help,
  );
  return {
    object,
    title(text, isStale) {
      heading.textContent = text;
      heading.title = text;
      stale.hidden = !isStale;
    },
    choose(side, shown) {
      sides.forEach((made, i) => made.setAttribute("aria-pressed", String(SIDES[i] === side)));
      pictures.forEach((made, i) => made.setAttribute("aria-pressed", String(PICTURES[i] === shown)));
    },
  };
}
