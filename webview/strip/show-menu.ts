import { element, setText } from "../element.ts";
import { createMenu } from "../menu.ts";
import { OVERLAYS, type Overlay, type OverlayReasons } from "../overlays.ts";

/** The menu of what is drawn beyond the rig, the set and the path. */
export interface ShowMenu {
  readonly object: HTMLElement;
  /** @param reasons Why entries rest; each stands beside its entry, where a screen reader finds it too. */
  update(shown: readonly Overlay[], reasons: OverlayReasons): void;
}

export function createShowMenu(changed: (shown: readonly Overlay[]) => void): ShowMenu {
  const entries = OVERLAYS.map(({ name, title }) => {
    const box = element("input", { type: "checkbox", "aria-describedby": `why-${name}` });
    const why = element("small", { id: `why-${name}` });
    return { name, box, why, object: element("label", {}, box, element("span", {}, title, why)) };
  });
  const rests = (box: HTMLInputElement): boolean => box.getAttribute("aria-disabled") === "true";
  for (const { box } of entries) {
    // It rests but can be reached, so that its reason can be read.
    box.addEventListener("click", (event) => rests(box) && event.preventDefault());
    box.addEventListener("change", () => changed(entries.filter((one) => one.box.checked).map(({ name }) => name)));
  }
  const objects = entries.map(({ object }) => object);
  return {
    object: createMenu("Show", "What is drawn", objects).object,
    update(shown, reasons) {
      for (const { name, box, why, object } of entries) {
        const reason = reasons[name] ?? "";
        box.checked = shown.includes(name);
        box.setAttribute("aria-disabled", String(reason !== ""));
        setText(why, reason);
        object.title = reason;
      }
    },
  };
}
