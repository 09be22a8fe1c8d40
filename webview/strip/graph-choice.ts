import { element } from "../element.ts";
import type { Palette } from "../palette.ts";
import type { OpenTake } from "../take/open-take.ts";
import { shareReading } from "../take/reading.ts";
import { bandOf } from "../take/share.ts";
import { hasLimits } from "./axis-graphs.ts";
import { GRAPHS, isOfAxes, type GraphChoice } from "./graph-names.ts";
import { lineLook } from "./line-look.ts";
import { lineSign } from "./line-sign.ts";

/** Which graphs, and of which axes: toggles that work by mouse, finger and keys. */
export interface GraphChooser {
  readonly object: HTMLElement;
  /** @param peaks Highest share of each axis, shape (a,). */
  load(open: OpenTake | undefined, peaks: ArrayLike<number>, palette: Palette): void;
  show(choice: GraphChoice): void;
}

export function createGraphChooser(chosen: (choice: GraphChoice) => void): GraphChooser {
  const axes = element("div", { class: "chips axes", role: "group", "aria-label": "Axes in the graphs" });
  let choice: GraphChoice = { graphs: [], axes: [] };
  let chips: { readonly name: string | undefined; readonly made: HTMLElement }[] = [];
  const toggles = GRAPHS.map(({ name, title, about }) => {
    const made = element("button", { type: "button", title: about }, title);
    made.addEventListener("click", () => {
      const wanted = GRAPHS.map((one) => one.name).filter((one) => choice.graphs.includes(one) !== (one === name));
      // One graph always stays.
      if (wanted.length > 0) chosen({ ...choice, graphs: wanted });
    });
    return { name, made };
  });
  const graphs = element(
    "div",
    { class: "chips which", role: "group", "aria-label": "Graphs" },
    ...toggles.map(({ made }) => made),
  );
  const press = (): void => {
    for (const { name, made } of toggles) made.setAttribute("aria-pressed", String(choice.graphs.includes(name)));
    const known = chips.filter(({ name }) => name !== undefined && choice.axes.includes(name));
    for (const { name, made } of chips) {
      const isPressed = name === undefined ? known.length === 0 : choice.axes.includes(name);
      made.setAttribute("aria-pressed", String(isPressed));
    }
    axes.hidden = !choice.graphs.some(isOfAxes);
  };
  const chip = (name: string | undefined, title: string, ...signs: (Node | string)[]): void => {
    const made = element("button", { type: "button", title }, ...signs);
    made.addEventListener("click", () => {
      const others = choice.axes.filter((one) => chips.some((each) => each.name === one));
      const isIn = name !== undefined && others.includes(name);
      const next = name === undefined ? [] : isIn ? others.filter((one) => one !== name) : [...others, name];
      chosen({ ...choice, axes: next });
    });
    chips.push({ name, made });
    axes.append(made);
  };
  return {
    object: element("div", { class: "chooser" }, graphs, axes),
    load(open, peaks, palette) {
      const focused = chips.findIndex(({ made }) => made === document.activeElement);
      chips = [];
      axes.replaceChildren();
      chip(undefined, "All axes", "All axes");
      open?.stage.axes.forEach(({ name }, i) => {
        if (!hasLimits(open, i)) {
          chip(name, `${name}: no limits stated`, lineSign(lineLook(i, palette)), name);
          return;
        }
        const peak = shareReading(peaks[i]);
        const marked = element("span", { class: `share share-${bandOf(peaks[i])}` }, peak);
        chip(name, `${name}: ${peak} of a limit at most`, lineSign(lineLook(i, palette)), name, marked);
      });
      press();
      chips[focused]?.made.focus();
    },
    show(next) {
      choice = next;
      press();
    },
  };
}
