import type { AlonePlace, AloneSource } from "../../protocol/alone-page.ts";
import { element } from "../element.ts";
import { createTextView, type LineNote } from "./text-view.ts";

/** As `alone.css` has it: where the text has no room beside the stage. */
export const NARROW = window.matchMedia("(max-width: 900px)");

/** The texts that the move is made of, one at a time, beside the stage or in its place where there is little room. */
export interface TextPane {
  readonly object: HTMLElement;
  /** Opens the pane, if need be, at a place. */
  reveal(place: AlonePlace): void;
  open(): void;
  close(): void;
  isOpen(): boolean;
}

/**
 * @param notesOf What stands beside the lines of a source, by its index.
 * @param changed Called when the pane opens or closes.
 */
export function createTextPane(
  sources: readonly AloneSource[],
  notesOf: (source: number) => readonly LineNote[],
  changed: (open: boolean) => void,
): TextPane {
  const choice = element(
    "select",
    { "aria-label": "Document" },
    ...sources.map(({ name }, source) => element("option", { value: source }, name)),
  );
  const close = element("button", { type: "button", title: "Hide the text (Escape)" }, "Hide");
  const view = createTextView();
  const scroll = element("div", { class: "text-scroll", tabindex: "0", role: "region" }, view.object);
  const bar = element("header", { class: "text-bar" }, choice, element("div", { class: "spring" }), close);
  const object = element("aside", { class: "text-pane", id: "text-pane", "aria-label": "Text" }, bar, scroll);
  let shown = -1;
  let cameFrom: HTMLElement | undefined;

  const show = (source: number): void => {
    if (source === shown) return;
    shown = source;
    choice.value = String(source);
    scroll.setAttribute("aria-label", sources[source].name);
    view.show(sources[source].text, notesOf(source));
    scroll.scrollTop = 0;
  };
  const setOpen = (open: boolean): void => {
    if (object.hidden === !open) return;
    object.hidden = !open;
    changed(open);
  };
  /** Back to where somebody came from, if it is still there to go to. */
  const goBack = (): void => {
    cameFrom?.focus();
    cameFrom = undefined;
  };
  choice.addEventListener("change", () => show(Number(choice.value)));
  close.addEventListener("click", () => {
    setOpen(false);
    goBack();
  });
  object.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      if (NARROW.matches) setOpen(false);
      goBack();
    }
    // Keys that scroll the text do not move the playhead too.
    if (["Escape", "Home", "End", "PageUp", "PageDown"].includes(event.key)) event.stopPropagation();
  });
  show(0);
  if (NARROW.matches) setOpen(false);
  return {
    object,
    reveal({ source, start, end }) {
      const from = document.activeElement;
      if (from instanceof HTMLElement && !object.contains(from)) cameFrom = from;
      setOpen(true);
      show(source);
      view.mark(start, end);
    },
    open: () => setOpen(true),
    close: () => setOpen(false),
    isOpen: () => !object.hidden,
  };
}
