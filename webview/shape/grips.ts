import { element, setAttributes, setText, svg } from "../element.ts";
import type { Told } from "./hand.ts";

export const GRIPS = ["camera", "target", "subject"] as const;
export type GripName = (typeof GRIPS)[number];

/** Something of the chosen key that can be taken hold of in a picture. */
export interface Grip {
  readonly name: GripName;
  /** What it is, for those who listen. */
  readonly label: string;
  /** px from the top left of the picture. */
  readonly x: number;
  readonly y: number;
  /** Ends of its arms along x, y and z of the set, px from it; absent for one that is seen end on. */
  readonly arms?: readonly (readonly [number, number] | undefined)[];
}

export type SetAxis = 0 | 1 | 2;
const AXES = ["x", "y", "z"] as const;

export interface GripEvents {
  begin(name: GripName): void;
  /** Somebody drags it to a place of the picture [px], along one axis of the set or freely. */
  drag(name: GripName, x: number, y: number, axis: SetAxis | undefined): void;
  /** Arrow keys: so many steps to the right, up, and towards whoever looks; `large` steps with Shift. */
  step(name: GripName, by: readonly [number, number, number], axis: SetAxis | undefined, large: boolean): void;
  release(): void;
  cancel(): void;
}

/** The grips over one picture. */
export interface GripLayer {
  readonly layer: HTMLElement;
  /** Places them; none hides all. */
  place(grips: readonly Grip[]): void;
  /** What is said of the drag under way, beside the pointer; `undefined`: nothing. */
  tell(told: Told | undefined): void;
}

/** Steps of the arrow keys: right, up, towards the eye. */
const STEPS: Readonly<Record<string, readonly [number, number, number]>> = {
  ArrowLeft: [-1, 0, 0],
  ArrowRight: [1, 0, 0],
  ArrowUp: [0, 1, 0],
  ArrowDown: [0, -1, 0],
  PageUp: [0, 0, -1],
  PageDown: [0, 0, 1],
};

/** A drag that strays less from where it began was none [px]. */
const SLACK = 3;

export function createGrips(events: GripEvents): GripLayer {
  const line = svg("line", { class: "grip-miss" });
  const drawing = svg("svg", { "aria-hidden": "true" }, line);
  const words = element("span", { class: "grip-words", "aria-hidden": "true", hidden: true });
  const layer = element("div", { class: "grips", hidden: true }, drawing, words);
  const made = new Map<GripName, ReturnType<typeof createGrip>>();
  let held: { readonly name: GripName; x: number; y: number } | undefined;
  let shown: readonly Grip[] = [];
  let told: Told | undefined;

  const draw = (): void => {
    const grip = held && shown.find(({ name }) => name === held!.name);
    const misses = grip && held && told && told.kind !== "says" && Math.hypot(grip.x - held.x, grip.y - held.y) > SLACK;
    setAttributes(line, {
      x1: grip?.x,
      y1: grip?.y,
      x2: held?.x,
      y2: held?.y,
      visibility: misses ? undefined : "hidden",
    });
    // What would be written stands below the pictures; at the pointer stands what is in its way.
    words.hidden = !(held && told && told.kind !== "says");
    if (!held || !told) return;
    setText(words, told.words);
    words.dataset.kind = told.kind;
    // A pointer that left the picture takes the words no further than to its edge.
    const x = Math.max(0, Math.min(held.x + 14, layer.clientWidth - words.offsetWidth));
    const y = Math.max(0, Math.min(held.y + 14, layer.clientHeight - words.offsetHeight));
    words.style.transform = `translate(${Math.round(x)}px, ${Math.round(y)}px)`;
  };
  const gripOf = (name: GripName): ReturnType<typeof createGrip> => {
    const known = made.get(name);
    if (known) return known;
    const grip = createGrip(name, {
      ...events,
      at: (x, y) => {
        held = x === undefined || y === undefined ? undefined : { name, x, y };
        if (!held) told = undefined;
        draw();
      },
      place: () => shown.find((one) => one.name === name),
      origin: () => layer.getBoundingClientRect(),
    });
    made.set(name, grip);
    layer.append(grip.object);
    return grip;
  };

  return {
    layer,
    place(grips) {
      shown = grips;
      if (layer.hidden !== (grips.length === 0)) layer.hidden = grips.length === 0;
      for (const [name, grip] of made) if (!grips.some((one) => one.name === name)) grip.object.hidden = true;
      for (const one of grips) gripOf(one.name).show(one);
      if (held) draw();
    },
    tell(next) {
      told = next;
      draw();
    },
  };
}

interface GripParts extends GripEvents {
  /** Where the pointer, or the wish of keys, is now; nothing: the drag is over. */
  at(x?: number, y?: number): void;
  place(): Grip | undefined;
  origin(): DOMRect;
}

function createGrip(name: GripName, parts: GripParts) {
  const knob = element("button", { type: "button", class: "grip-knob" });
  const arms = AXES.map((axis) =>
    element("span", { class: "grip-arm", "data-axis": axis, "aria-hidden": "true" }, axis),
  );
  const rods = AXES.map((axis) => svg("line", { "data-axis": axis }));
  const object = element(
    "div",
    { class: "grip", "data-what": name },
    svg("svg", { "aria-hidden": "true" }, ...rods),
    ...arms,
    knob,
  );
  let axis: SetAxis | undefined;
  let keys = false;

  const end = (how: "release" | "cancel"): void => {
    axis = undefined;
    keys = false;
    parts.at();
    parts[how]();
  };
  const hold = (target: HTMLElement, along: SetAxis | undefined): void => {
    let off: { x: number; y: number } | undefined;
    let moved = false;
    target.addEventListener("pointerdown", (event) => {
      const grip = parts.place();
      if (event.button !== 0 || !grip) return;
      event.preventDefault();
      event.stopPropagation();
      knob.focus();
      target.setPointerCapture(event.pointerId);
      off = { x: event.clientX - grip.x, y: event.clientY - grip.y };
      moved = false;
      axis = along;
    });
    target.addEventListener("pointermove", (event) => {
      const grip = parts.place();
      if (!off || !grip) return;
      event.stopPropagation();
      const [x, y] = [event.clientX - off.x, event.clientY - off.y];
      if (!moved && Math.hypot(x - grip.x, y - grip.y) < SLACK) return;
      if (!moved) parts.begin(name);
      moved = true;
      const { left, top } = parts.origin();
      parts.at(event.clientX - left, event.clientY - top);
      parts.drag(name, x, y, axis);
    });
    for (const over of ["pointerup", "pointercancel"] as const) {
      target.addEventListener(over, (event) => {
        if (!off) return;
        event.stopPropagation();
        off = undefined;
        if (moved) end(over === "pointerup" ? "release" : "cancel");
      });
    }
  };
  hold(knob, undefined);
  arms.forEach((arm, i) => hold(arm, i as SetAxis));

  knob.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const own = AXES.indexOf(event.key.toLowerCase() as (typeof AXES)[number]);
    const step = STEPS[event.key];
    if (event.key === "Escape") end("cancel");
    else if (0 <= own) axis = own as SetAxis;
    else if (step) {
      if (!keys) parts.begin(name);
      keys = true;
      parts.step(name, step, axis, event.shiftKey);
      const grip = parts.place();
      if (grip) parts.at(grip.x, grip.y);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  });
  knob.addEventListener("keyup", (event) => {
    if (AXES.includes(event.key.toLowerCase() as (typeof AXES)[number])) axis = undefined;
    if (keys && STEPS[event.key]) end("release");
  });
  knob.addEventListener("blur", () => {
    if (keys) end("release");
  });

  return {
    object,
    show(grip: Grip) {
      object.hidden = false;
      object.style.transform = `translate(${grip.x.toFixed(1)}px, ${grip.y.toFixed(1)}px)`;
      setAttributes(knob, { "aria-label": grip.label, title: grip.label });
      AXES.forEach((_, i) => {
        const arm = grip.arms?.[i];
        arms[i].hidden = !arm;
        setAttributes(rods[i], { x2: arm?.[0] ?? 0, y2: arm?.[1] ?? 0, visibility: arm ? undefined : "hidden" });
        if (arm) arms[i].style.transform = `translate(${arm[0].toFixed(1)}px, ${arm[1].toFixed(1)}px)`;
      });
    },
  };
}
