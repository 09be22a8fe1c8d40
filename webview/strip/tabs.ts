import { element, setText } from "../element.ts";

export interface Tabs<T extends string> {
  readonly object: HTMLElement;
  open(name: T): void;
  /** Title of a tab, for counts. */
  name(tab: T, title: string): void;
}

/** Tabs by the pattern of the ARIA practices: arrow keys go from tab to tab, one of them is in the order of focus. */
export function createTabs<T extends string>(
  panels: readonly { readonly name: T; readonly title: string; readonly panel: HTMLElement }[],
  opened: (name: T) => void,
): Tabs<T> {
  const list = element("div", { class: "tabs", role: "tablist", "aria-label": "About the move" });
  const tabs = panels.map(({ name, title, panel }) => {
    const tab = element(
      "button",
      { type: "button", role: "tab", id: `tab-${name}`, "aria-controls": `panel-${name}` },
      title,
    );
    panel.id = `panel-${name}`;
    panel.setAttribute("role", "tabpanel");
    panel.setAttribute("aria-labelledby", tab.id);
    panel.setAttribute("tabindex", "0");
    panel.classList.add("panel");
    tab.addEventListener("click", () => opened(name));
    list.append(tab);
    return { name, tab, panel };
  });
  list.addEventListener("keydown", (event) => {
    const at = tabs.findIndex(({ tab }) => tab === document.activeElement);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: tabs.length - 1 }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    const next = tabs[(to + tabs.length) % tabs.length];
    next.tab.focus();
    opened(next.name);
  });
  return {
    object: element("div", { class: "tabbed" }, list, ...tabs.map(({ panel }) => panel)),
    open(name) {
      for (const one of tabs) {
        const chosen = one.name === name;
        one.tab.setAttribute("aria-selected", String(chosen));
        one.tab.tabIndex = chosen ? 0 : -1;
        one.panel.hidden = !chosen;
      }
    },
    name(tab, title) {
      const found = tabs.find((one) => one.name === tab);
      if (found) setText(found.tab, title);
    },
  };
}
