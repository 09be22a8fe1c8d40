import { element } from "../element.ts";
import type { StageFinding } from "../../protocol/stage.ts";

export interface KeyRow {
  readonly label: string;
  readonly timecode: string;
  readonly worst: string;
}

/** The keys as a list: the same as the marks on the path, for hands that use no pointer. */
export function createKeyList(clicked: (key: number) => void): {
  readonly object: HTMLElement;
  load(rows: readonly KeyRow[]): void;
  choose(key: number): void;
} {
  const list = element("ol", { class: "rows keys" });
  const object = element("div", {}, list);
  return {
    object,
    load(rows) {
      list.replaceChildren(
        ...rows.map((row, key) => {
          const button = element(
            "button",
            { type: "button", title: "Show this key and its text" },
            element("span", { class: "diamond", "aria-hidden": "true" }, "◆"),
            element("span", { class: "name" }, row.label),
            element("span", { class: "time" }, row.timecode),
            element("span", { class: "detail" }, row.worst),
          );
          button.addEventListener("click", () => clicked(key));
          return element("li", {}, button);
        }),
      );
      if (rows.length === 0) list.append(element("li", { class: "none" }, "No keys."));
    },
    choose(key) {
      [...list.children].forEach((item, index) => {
        const button = item.querySelector("button");
        if (index === key) button?.setAttribute("aria-current", "true");
        else button?.removeAttribute("aria-current");
      });
    },
  };
}

const SIGNS: Readonly<Record<StageFinding["severity"], string>> = {
  error: "✕",
  warning: "△",
  information: "i",
  hint: "·",
};

/** The findings: each goes to its moment and reveals its text. */
export function createFindingList(clicked: (finding: StageFinding) => void): {
  readonly object: HTMLElement;
  load(findings: readonly StageFinding[], spanOf: (finding: StageFinding) => string): void;
} {
  const list = element("ul", { class: "rows findings" });
  const object = element("div", {}, list);
  return {
    object,
    load(findings, spanOf) {
      list.replaceChildren(
        ...findings.map((finding) => {
          const button = element(
            "button",
            { type: "button", title: "Show this moment and the text" },
            element("span", { class: `severity ${finding.severity}`, "aria-hidden": "true" }, SIGNS[finding.severity]),
            element("span", { class: "name" }, `${finding.severity}: ${finding.code}`),
            element("span", { class: "time" }, spanOf(finding)),
            element("span", { class: "detail" }, finding.message),
          );
          button.addEventListener("click", () => clicked(finding));
          return element("li", {}, button);
        }),
      );
      if (findings.length === 0)
        list.append(element("li", { class: "none" }, "No findings. This is no statement that the move is safe."));
    },
  };
}
