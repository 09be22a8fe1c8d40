import { element, setText } from "../element.ts";

/** A name at a place of the picture. Higher `rank` is placed first; what would cover another is left out. */
export interface Label {
  readonly text: string;
  readonly kind:
    | "key"
    | "key-chosen"
    | "target"
    | "aimed"
    | "mark"
    | "turntable"
    | "way"
    | "range"
    | "range-pointed"
    | "nearest"
    | "nearest-high"
    | "part"
    | "pass"
    | "depth";
  readonly rank: number;
  /** px from the top left of the picture; NaN hides it. */
  x: number;
  y: number;
}

const HEIGHT = 16;
const LETTER = 6.6;
/** Off the mark that it names [px]. */
const OFF = 9;

/** Names over the picture, as text of the page: sharp, in the editor's font. They are for the eye; lists carry the same. */
export function createLabels(): {
  readonly layer: HTMLElement;
  place(labels: readonly Label[], width: number, height: number): void;
} {
  const layer = element("div", { class: "labels", "aria-hidden": "true" });
  const pool: { readonly object: HTMLElement; at: string }[] = [];
  return {
    layer,
    place(labels, width, height) {
      const taken: { x: number; y: number; width: number }[] = [];
      let used = 0;
      for (const label of [...labels].sort((a, b) => b.rank - a.rank)) {
        const inside = 0 <= label.x && label.x <= width && 0 <= label.y && label.y <= height;
        if (!inside) continue;
        const wide = label.text.length * LETTER + 10;
        const x = label.x + OFF + wide > width ? label.x - OFF - wide : label.x + OFF;
        const y = Math.min(Math.max(label.y - HEIGHT / 2, 0), height - HEIGHT);
        const free = taken.every(
          (other) => x + wide < other.x || other.x + other.width < x || Math.abs(other.y - y) >= HEIGHT,
        );
        if (!free) continue;
        taken.push({ x, y, width: wide });
        const shown = (pool[used] ??= { object: layer.appendChild(element("span")), at: "" });
        used += 1;
        setText(shown.object, label.text);
        if (shown.object.className !== label.kind) shown.object.className = label.kind;
        if (shown.object.hidden) shown.object.hidden = false;
        const at = `translate(${Math.round(x)}px, ${Math.round(y)}px)`;
        if (at !== shown.at) shown.object.style.transform = shown.at = at;
      }
      for (let i = used; i < pool.length; i++) if (!pool[i].object.hidden) pool[i].object.hidden = true;
    },
  };
}
