import { element, setText } from "./element.ts";

/** Quiet after which the last sentence is said [ms]: while somebody scrubs, only where they come to matters. */
const QUIET = 300;

/** Says aloud, to those who listen to the page, where the playhead came to rest. */
export function createSpeaker(): { readonly object: HTMLElement; say(sentence: string): void } {
  const object = element("div", { class: "unseen", role: "status", "aria-live": "polite" });
  let waiting: number | undefined;
  return {
    object,
    say(sentence) {
      window.clearTimeout(waiting);
      waiting = window.setTimeout(() => setText(object, sentence), QUIET);
    },
  };
}
