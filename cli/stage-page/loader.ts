import { PLAIN_WHY_ID, PROGRAM_ID } from "../../protocol/alone-page.ts";

/** Runs in the page before all else: unpacks the stage and starts it, or says why it does not. */
export const LOADER = `(async () => {
  const why = document.getElementById("${PLAIN_WHY_ID}");
  why.hidden = true;
  const say = (words) => {
    why.textContent = words;
    why.hidden = false;
  };
  if (typeof DecompressionStream === "undefined") {
    say("This browser is too old for the stage: it must know how to inflate (Chromium 80, Firefox 113, Safari 16.4 or newer). The findings are listed below.");
    return;
  }
  try {
    const letters = document.getElementById("${PROGRAM_ID}").textContent;
    const bytes = Uint8Array.from(atob(letters), (letter) => letter.charCodeAt(0));
    const text = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
    const program = document.createElement("script");
    program.textContent = await new Response(text).text();
    document.body.append(program);
  } catch (error) {
    say("The stage can't be unpacked, so this file is damaged (" + error.message + "). The findings are listed below.");
  }
})();`;
