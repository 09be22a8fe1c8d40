import { element } from "../element.ts";

const KEYS: readonly (readonly [string, string])[] = [
  ["Space", "play or pause"],
  [", and .", "one frame back, one forward"],
  ["< and >", "ten frames back, ten forward"],
  ["Home and End", "start and end"],
  ["Page Up and Page Down", "key before and key after"],
  ["L", "loop on or off"],
  ["S and Shift S", "play slower, faster"],
  ["1 2 3 4 5", "free, top, side and front view, and through the lens, in the view that was used last"],
  ["F", "fit that view"],
  ["V", "one, two or four views"],
  ["Alt ← and Alt →", "the chosen key a frame earlier, later; with Shift ten"],
  ["arrow keys on a grip", "move it in the picture, with Shift further; Page Up and Page Down away and nearer"],
  ["X Y Z held on a grip", "along that axis of the set alone"],
  ["↑ and ↓ on an axis under Values", "more and less of it at the chosen key, with Shift further"],
  ["Escape", "put back what is being shaped"],
  ["arrow keys on the stage", "turn the view; with Shift move it"],
  ["+ and − on the stage", "zoom"],
  ["P and Shift P", "next and previous peak of the graphs"],
  ["+ − 0 on the graphs", "less time, more, all of it"],
  ["← and → on the graphs", "earlier and later"],
  ["Y on the graphs", "scale to what is shown"],
  ["Enter on the graphs", "reveal the text of the key at the playhead"],
  ["R", "reveal the text of the key at the playhead"],
  ["?", "this help"],
];

/** What the keys do, and what the signs of the pictures mean. */
export function createHelp(): { readonly object: HTMLDialogElement; open(): void } {
  const rows = KEYS.map(([keys, does]) =>
    element("tr", {}, element("th", { scope: "row" }, element("kbd", {}, keys)), element("td", {}, does)),
  );
  const close = element("button", { type: "button", class: "primary" }, "Close");
  const object = element(
    "dialog",
    { class: "help", "aria-labelledby": "help-title" },
    element("h2", { id: "help-title" }, "Keys"),
    element("table", {}, element("tbody", {}, ...rows)),
    element(
      "p",
      {},
      "Drag turns the free view, Shift or another button moves it, the wheel zooms. " +
        "A click on a diamond goes to that key and reveals its text; dragged along the strip the key comes at another time, with " +
        "Shift between frames too. The rings at a chosen key are grips: of its camera, of what it aims at, and of the subject " +
        "in the lens picture. What is let go of is written into the text, as one step that can be undone. In the lens picture a cross is a target, " +
        "four corners are where the framing wants the subject, and the dashed frame is the delivered crop. The dotted frame " +
        "round it is what stabilising, framing errors and passes may take. The glass shows how far the subject may be off its framing, " +
        "and an arrow how far it smears while the shutter is open. A slanted cross is a surveyed mark. " +
        "Arcs and rails are the ranges of axes, with a tick where each stands: solid for one that moves by itself, dashed for " +
        "one that follows, dotted for one that is set before the take, with wide gaps where no range is stated; point at a tick " +
        "to read it. A ring names the axis that is nearest to a limit. " +
        "What is compared with has a dashed path, hollow keys and an outline of its rig; arrows in the lens picture lead " +
        "from where it has a target to where that is now. " +
        "On the graphs the wheel zooms about the pointer, Shift and drag or two fingers choose a stretch of time, a click " +
        "on the line of a key reveals its text, and the other button reveals the text of what goes on there.",
    ),
    element(
      "p",
      {},
      "The stage shows what the text computes. It does not tell that a move is safe: keep to the rig's manual, local codes, " +
        "and a competent operator with an emergency stop in reach.",
    ),
    close,
  );
  close.addEventListener("click", () => object.close());
  return { object, open: () => object.showModal() };
}
