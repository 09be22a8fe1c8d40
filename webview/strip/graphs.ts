import { element } from "../element.ts";
import type { Palette } from "../palette.ts";
import type { OpenTake } from "../take/open-take.ts";
import { shareReading } from "../take/reading.ts";
import { bandOf, ORDERS, peakShares, type OrderName } from "../take/share.ts";
import { createCurve, type Curve } from "./curve.ts";
import { axisCurves, hasLimits, lineLook, shareCurve } from "./curve-specs.ts";

export interface GraphsEvents {
  seek(time: number): void;
  /** Another axis or other orders were chosen. */
  chosen(axis: string | undefined, orders: readonly OrderName[]): void;
}

export interface Graphs {
  readonly object: HTMLElement;
  load(open: OpenTake | undefined): void;
  choose(axis: string | undefined, orders: readonly OrderName[]): void;
  playhead(time: number): void;
  paint(palette: Palette): void;
}

const SIDE_SPACE = 4;
const TITLE_HEIGHT = 20;
const SCALE_HEIGHT = 44;

/** The curves of one axis, or the shares of all, over the same time as the slider. */
export function createGraphs(events: GraphsEvents): Graphs {
  const axes = element("div", { class: "chips", role: "group", "aria-label": "Axis in the graphs" });
  const checks = ORDERS.map((order) => {
    const box = element("input", { type: "checkbox" });
    box.addEventListener("change", () => {
      const wanted = ORDERS.filter((_, i) => checks[i].box.checked);
      events.chosen(axis, wanted.length > 0 ? wanted : orders);
    });
    return { box, label: element("label", {}, box, order) };
  });
  const orderGroup = element(
    "div",
    { class: "orders", role: "group", "aria-label": "Curves" },
    ...checks.map((check) => check.label),
  );
  const stack = element("div", { class: "stack" });
  const object = element("div", { class: "graphs" }, axes, orderGroup, stack);
  let open: OpenTake | undefined;
  let peaks: Float64Array = new Float64Array(0);
  let palette: Palette | undefined;
  let axis: string | undefined;
  let orders: readonly OrderName[] = ["position", "speed", "acceleration"];
  let curves: Curve[] = [];
  let chips: { readonly name: string | undefined; readonly made: HTMLElement }[] = [];
  let time = 0;
  let width = 0;

  const draw = (): void => {
    for (const curve of curves) curve.dispose();
    curves = [];
    width = stack.clientWidth - SIDE_SPACE;
    if (open === undefined || palette === undefined || width < 40) return;
    const room = roomFor(axis === undefined ? 1 : orders.length);
    const index = open.stage.axes.findIndex((one) => one.name === axis);
    const specs = index < 0 ? [shareCurve(open, peaks, palette, room)] : axisCurves(open, index, orders, palette, room);
    curves = specs.map((spec) => createCurve(spec, palette as Palette, width, events.seek));
    stack.append(...curves.map((curve) => curve.object));
    for (const curve of curves) curve.playhead(time);
  };
  /** What the panel leaves for plots, without their titles and the scale of time. */
  const roomFor = (count: number): number => {
    const top = stack.getBoundingClientRect().top - object.getBoundingClientRect().top + object.scrollTop;
    return object.clientHeight - top - count * TITLE_HEIGHT - SCALE_HEIGHT;
  };
  const fillChips = (): void => {
    const focused = chips.findIndex((chip) => chip.made === document.activeElement);
    chips = [];
    const chip = (name: string | undefined, title: string, ...signs: (Node | string)[]): HTMLElement => {
      const made = element("button", { type: "button", title }, ...signs);
      made.addEventListener("click", () => events.chosen(name, orders));
      chips.push({ name, made });
      return made;
    };
    axes.replaceChildren(chip(undefined, "Shares of the limits of all axes", "All axes"));
    open?.stage.axes.forEach((one, i) => {
      const peak = hasLimits(open as OpenTake, i) ? shareReading(peaks[i]) : "";
      const marked = element("span", { class: `share share-${bandOf(peaks[i])}` }, peak);
      const title = peak ? `${one.name}: ${peak} of a limit at most` : `${one.name}: no limits stated`;
      if (peak) axes.append(chip(one.name, title, lineSign(i), one.name, marked));
      else axes.append(chip(one.name, title, one.name));
    });
    pressChips();
    chips[focused]?.made.focus();
  };
  const pressChips = (): void => {
    for (const chip of chips) chip.made.setAttribute("aria-pressed", String(chip.name === axis));
  };
  const lineSign = (index: number): Node => {
    const look = palette ? lineLook(index, palette) : undefined;
    const sign = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    const line = document.createElementNS("http://www.w3.org/2000/svg", "line");
    sign.setAttribute("class", "line-sign");
    sign.setAttribute("viewBox", "0 0 22 4");
    sign.setAttribute("aria-hidden", "true");
    for (const [name, value] of Object.entries({ x1: 0, x2: 22, y1: 2, y2: 2, "stroke-width": 2 })) {
      line.setAttribute(name, String(value));
    }
    if (look) line.setAttribute("stroke", look.stroke);
    if (look && look.dash.length > 0) line.setAttribute("stroke-dasharray", look.dash.join(" "));
    sign.append(line);
    return sign;
  };
  let size = "";
  new ResizeObserver(() => {
    const next = `${object.clientWidth} ${object.clientHeight}`;
    if (next !== size) draw();
    size = next;
  }).observe(object);

  return {
    object,
    load(next) {
      open = next;
      peaks = next ? peakShares(next) : new Float64Array(0);
      if (next && !next.stage.axes.some((one) => one.name === axis)) axis = undefined;
      fillChips();
      draw();
    },
    choose(nextAxis, nextOrders) {
      axis = nextAxis;
      orders = nextOrders;
      checks.forEach((check, i) => (check.box.checked = orders.includes(ORDERS[i])));
      orderGroup.hidden = axis === undefined;
      pressChips();
      draw();
    },
    playhead(next) {
      time = next;
      for (const curve of curves) curve.playhead(time);
    },
    paint(next) {
      palette = next;
      fillChips();
      draw();
    },
  };
}
