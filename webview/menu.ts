import { element } from "./element.ts";

/** A button that opens a list below it: closed by Escape, by a click elsewhere or when the focus leaves it. */
export interface Menu {
  readonly object: HTMLDetailsElement;
  close(): void;
}

/** @param entries Of the list; arrow keys go from one control to the next. */
export function createMenu(name: string, title: string, entries: readonly HTMLElement[]): Menu {
  const opener = element("summary", { title }, name);
  const list = element("div", { class: "menu-list", role: "group", "aria-label": title }, ...entries);
  const object = element("details", { class: "menu" }, opener, list);
  const close = (): void => void (object.open = false);
  const controls = (): HTMLElement[] => [...list.querySelectorAll<HTMLElement>("input, button")];
  object.addEventListener("keydown", (event) => {
    if (!object.open) return;
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (event.key === "Escape") {
      close();
      opener.focus();
    } else if (step !== undefined) {
      const all = controls();
      const at = all.indexOf(document.activeElement as HTMLElement);
      all[at < 0 ? (step > 0 ? 0 : all.length - 1) : (at + step + all.length) % all.length]?.focus();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  });
  object.addEventListener("focusout", ({ relatedTarget }) => {
    if (relatedTarget instanceof Node && !object.contains(relatedTarget)) close();
  });
  document.addEventListener("pointerdown", ({ target }) => {
    if (object.open && target instanceof Node && !object.contains(target)) close();
  });
  return { object, close };
}
