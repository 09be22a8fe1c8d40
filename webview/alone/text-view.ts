import { element } from "../element.ts";
import { lineAt, linesOf, stretchesOf, type TextLine } from "./text-lines.ts";

/** What stands beside a line and leads to the stage. */
export interface LineNote {
  /** UTF-16 offset that it stands at. */
  readonly at: number;
  readonly kind: "key" | "error" | "warning" | "information" | "hint";
  readonly words: string;
  /** Absent where there is nothing to go to. */
  go?(): void;
}

/** One text, line by line, with its notes under the lines that they are about. */
export interface TextView {
  readonly object: HTMLElement;
  show(text: string, notes: readonly LineNote[]): void;
  /** Marks a place, brings it into view and gives it the focus. */
  mark(start: number, end: number): void;
}

const SIGNS: Readonly<Record<LineNote["kind"], string>> = {
  key: "◆",
  error: "✕",
  warning: "△",
  information: "i",
  hint: "·",
};

export function createTextView(): TextView {
  const object = element("ol", { class: "text-lines" });
  let lines: readonly TextLine[] = [];
  let marked: readonly number[] = [];
  const rowOf = (line: number): Element => object.children[line];
  /** The line's own words, for a line that has none a blank, so that it keeps its height. */
  const write = (line: number, ...parts: readonly (Node | string)[]): void =>
    rowOf(line).firstElementChild?.replaceChildren(...(lines[line].text === "" ? [" "] : parts));
  return {
    object,
    show(text, notes) {
      lines = linesOf(text);
      marked = [];
      const beside = new Map<number, LineNote[]>();
      for (const note of notes) {
        const line = lineAt(lines, note.at);
        beside.set(line, [...(beside.get(line) ?? []), note]);
      }
      object.replaceChildren(
        ...lines.map((line, idx) =>
          element(
            "li",
            { tabindex: "-1" },
            element("code", {}, line.text === "" ? " " : line.text),
            ...(beside.get(idx) ?? []).map(noteElement),
          ),
        ),
      );
    },
    mark(start, end) {
      for (const line of marked) {
        write(line, lines[line].text);
        rowOf(line).removeAttribute("aria-current");
      }
      const stretches = stretchesOf(lines, start, end);
      for (const { line, from, to } of stretches) {
        const { text } = lines[line];
        write(line, text.slice(0, from), element("mark", {}, text.slice(from, to)), text.slice(to));
        rowOf(line).setAttribute("aria-current", "location");
      }
      marked = stretches.map(({ line }) => line);
      const row = rowOf(lineAt(lines, start)) as HTMLElement;
      row.focus({ preventScroll: true });
      row.scrollIntoView({ block: "center" });
    },
  };
}

function noteElement({ kind, words, go }: LineNote): HTMLElement {
  const sign = element("span", { class: `severity ${kind}`, "aria-hidden": "true" }, SIGNS[kind]);
  const name = kind === "key" ? "key" : kind;
  const spoken = element("span", { class: "unseen" }, `${name}: `);
  if (!go) return element("p", { class: `note ${kind}` }, sign, spoken, words);
  const title = kind === "key" ? "Show this key on the stage" : "Show this moment on the stage";
  const button = element("button", { type: "button", class: `note ${kind}`, title }, sign, spoken, words);
  button.addEventListener("click", go);
  return button;
}
