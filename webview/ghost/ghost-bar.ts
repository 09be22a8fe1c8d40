import { ALIGNMENTS, type Alignment } from "../../core/compare/compared-move.ts";
import type { Largest } from "../../core/compare/compare-takes.ts";
import { element, setText, svg } from "../element.ts";
import { createMenu } from "../menu.ts";
import { icon } from "../strip/icons.ts";
import type { Moment } from "../take/moment.ts";
import { timecodeOf } from "../take/words.ts";
import type { GhostPlay } from "./ghost-play.ts";
import { axisWords, differs, ghostNotes, pixelWords, pupilWords, subjectOf } from "./ghost-words.ts";

export interface GhostBarEvents {
  aligned(alignment: Alignment): void;
  /** Somebody wants to see a moment of the move [s]. */
  went(time: number): void;
  stopped(): void;
}

/** What is compared with, what differs now, and where it differs most. */
export interface GhostBar {
  readonly object: HTMLElement;
  load(play: GhostPlay | undefined): void;
  /** Brings what differs now up to date. */
  read(moment: Moment): void;
  words(): string;
}

const ALIGNED: Readonly<Record<Alignment, string>> = { time: "time", share: "share of the move" };

export function createGhostBar(events: GhostBarEvents): GhostBar {
  const label = element("strong", {});
  const align = element(
    "select",
    { "aria-label": "Moments that are compared" },
    ...ALIGNMENTS.map((one) => element("option", { value: one }, ALIGNED[one])),
  );
  align.addEventListener("change", () => events.aligned(align.value as Alignment));
  const [pupilNow, pupilMost] = [element("b", {}), element("span", {})];
  const [subjectName, subjectNow, subjectMost] = [element("span", {}), element("b", {}), element("span", {})];
  const list = element("div", { class: "ghost-list" });
  const menu = createMenu("Differences", "Where the two differ most", [list]);
  const stop = element(
    "button",
    { type: "button", class: "sign ghost-stop", "aria-label": "Stop comparing", title: "Stop comparing" },
    icon("close"),
  );
  stop.addEventListener("click", events.stopped);
  const sign = svg("svg", { class: "ghost-swatch", width: 26, height: 10, "aria-hidden": "true" });
  sign.append(svg("path", { d: "M1 5H25" }));
  const object = element(
    "section",
    { class: "ghost-bar", "aria-label": "Comparison", hidden: true },
    element("span", { class: "ghost-with" }, sign, "with ", label, stop),
    element("label", {}, "at the same ", align),
    element("span", { class: "ghost-value" }, "Pupil ", pupilNow, pupilMost),
    element("span", { class: "ghost-value" }, subjectName, subjectNow, subjectMost),
    menu.object,
  );
  let play: GhostPlay | undefined;
  let subject = -2;

  /** A largest difference with its moment, which a click goes to. */
  const moment = (words: string, { at }: Largest): HTMLElement => {
    const time = timecodeOf(play!.open, at);
    const made = element("button", { type: "button", class: "link", title: `Go to ${time}` }, `${words} at ${time}`);
    made.addEventListener("click", () => events.went(at));
    return made;
  };
  const row = (name: string, ...cells: (HTMLElement | string)[]): HTMLElement =>
    element("div", { class: "ghost-row" }, element("span", {}, name), ...cells);

  const fill = (): void => {
    const comparison = play?.comparison;
    if (!play || !comparison) {
      list.replaceChildren(element("p", {}, "Being looked for."));
      pupilMost.replaceChildren();
      return;
    }
    const axes = comparison.axes.filter(differs);
    const targets = comparison.targets.map(({ name, shift }) =>
      row(name, shift ? moment(pixelWords(shift.value), shift) : "in neither picture"),
    );
    list.replaceChildren(
      row("Pupil", moment(pupilWords(comparison.pupil.value), comparison.pupil)),
      ...targets,
      ...axes.map(({ name, type, difference }) => row(name, moment(axisWords(type, difference.value), difference))),
      ...ghostNotes(play, comparison).map((words) => element("p", {}, words)),
    );
    pupilMost.replaceChildren(", most ", moment(pupilWords(comparison.pupil.value), comparison.pupil));
  };

  const chooseSubject = (next: number): void => {
    if (!play || next === subject) return;
    subject = next;
    const chosen = play.targets[next];
    setText(subjectName, chosen ? `${chosen.name} ` : "No target that both have");
    const shift = play.comparison?.targets[next]?.shift;
    subjectMost.replaceChildren(...(shift ? [", most ", moment(pixelWords(shift.value), shift)] : []));
  };

  return {
    object,
    load(next) {
      play = next;
      subject = -2;
      object.hidden = !next;
      if (!next) return;
      setText(label, next.label);
      label.title = next.label;
      align.value = next.alignment;
      fill();
    },
    read(now) {
      if (!play) return;
      chooseSubject(subjectOf(play, now.aimed));
      setText(pupilNow, play.over ? "–" : pupilWords(play.pupil));
      const [dx, dy] = [play.shifts[4 * subject + 2], play.shifts[4 * subject + 3]];
      const isRead = subject >= 0 && !play.over && Number.isFinite(dx) && Number.isFinite(dy);
      setText(subjectNow, subject < 0 ? "" : isRead ? pixelWords(Math.hypot(dx, dy)) : "–");
    },
    words: () => [object.innerText, list.textContent].join("\n"),
  };
}
