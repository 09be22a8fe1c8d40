import { element } from "../element.ts";
import type { Overlay, OverlayReasons } from "../overlays.ts";
import { PANE_COUNTS, type PaneCount } from "../panes/pane-set.ts";
import { icon } from "./icons.ts";
import { createShowMenu } from "./show-menu.ts";

export interface ViewsBarEvents {
  count(count: PaneCount): void;
  overlays(shown: readonly Overlay[]): void;
  help(): void;
}

export interface ViewsBar {
  readonly object: HTMLElement;
  title(text: string, stale: boolean): void;
  choose(count: number): void;
  overlays(shown: readonly Overlay[], reasons: OverlayReasons): void;
}

const COUNT_NAMES: Readonly<Record<PaneCount, string>> = { 1: "One", 2: "Two", 4: "Four" };

/** The move's title, how many views there are, and what they show. @param menus More that the bar has. */
export function createViewsBar(events: ViewsBarEvents, ...menus: readonly HTMLElement[]): ViewsBar {
  const heading = element("h1", {}, "Stage");
  const stale = element(
    "span",
    { class: "stale", hidden: true, title: "The text cannot be solved as it stands: this is its last good result." },
    "last good result",
  );
  const counts = PANE_COUNTS.map((count) => {
    const made = element("button", { type: "button", title: "Number of views (V)" }, COUNT_NAMES[count]);
    made.addEventListener("click", () => events.count(count));
    return made;
  });
  const show = createShowMenu(events.overlays);
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
    element("div", { class: "choice", role: "group", "aria-label": "Number of views" }, ...counts),
    show.object,
    ...menus,
    help,
  );
  return {
    object,
    title(text, isStale) {
      heading.textContent = text;
      heading.title = text;
      stale.hidden = !isStale;
    },
    choose: (count) => counts.forEach((made, i) => made.setAttribute("aria-pressed", String(PANE_COUNTS[i] === count))),
    overlays: show.update,
  };
}
