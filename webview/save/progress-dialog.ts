import { element, setAttributes, setText } from "../element.ts";

/** Says how far something long is, and stops it. */
export interface ProgressDialog {
  readonly object: HTMLDialogElement;
  /** Opens it. @returns A signal that is aborted when somebody stops it. */
  open(): AbortSignal;
  /** @param share Of the whole, 0 to 1. */
  show(share: number): void;
  close(): void;
}

export function createProgressDialog(): ProgressDialog {
  const bar = element("progress", { max: 1, "aria-labelledby": "film-title" });
  const words = element("p", { "aria-live": "polite" });
  const stop = element("button", { type: "button" }, "Stop");
  const object = element(
    "dialog",
    { class: "help progress", "aria-labelledby": "film-title" },
    element("h2", { id: "film-title" }, "Filming the move"),
    ...[bar, words, stop],
  );
  let stopping = new AbortController();
  stop.addEventListener("click", () => stopping.abort());
  object.addEventListener("cancel", () => stopping.abort());
  return {
    object,
    open() {
      stopping = new AbortController();
      setAttributes(bar, { value: 0 });
      setText(words, "");
      object.showModal();
      return stopping.signal;
    },
    show(share) {
      bar.value = share;
      // Said aloud a tenth at a time.
      setText(words, `${Math.floor(share * 10) * 10} %`);
    },
    close: () => object.close(),
  };
}
