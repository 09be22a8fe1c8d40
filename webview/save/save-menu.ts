import { element, setText } from "../element.ts";
import { createMenu } from "../menu.ts";

export const SAVES = ["view", "lens", "film"] as const;
/** What can be saved: a view, the delivered picture of the lens, the move in a view. */
export type SaveWhat = (typeof SAVES)[number];

export interface SaveMenu {
  readonly object: HTMLElement;
  /** @param delivered Size of the lens picture, in words. @param reasons Why something can't be saved now. */
  update(delivered: string, reasons: Partial<Record<SaveWhat, string>>): void;
}

export function createSaveMenu(chosen: (what: SaveWhat) => void): SaveMenu {
  const entries = SAVES.map((what) => {
    const name = element("span");
    const why = element("small", { id: `why-save-${what}` });
    const object = element("button", { type: "button", "aria-describedby": why.id }, name, why);
    object.addEventListener("click", () => {
      if (object.getAttribute("aria-disabled") === "true") return;
      menu.close();
      chosen(what);
    });
    return { what, name, why, object };
  });
  const objects = entries.map(({ object }) => object);
  const menu = createMenu("Save", "Save as a file", objects);
  return {
    object: menu.object,
    update(delivered, reasons) {
      const names = { view: "Picture of this view", lens: `Lens picture${delivered}`, film: "Film of this view" };
      for (const { what, name, why, object } of entries) {
        setText(name, names[what]);
        setText(why, reasons[what] ?? (what === "film" ? "WebM" : "PNG"));
        object.setAttribute("aria-disabled", String(reasons[what] !== undefined));
      }
    },
  };
}
