type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;
type Child = Node | string | undefined;

/**
 * An HTML element with attributes and children. `true` writes an empty attribute, `false` and `undefined` none. Takes no
 * style and no event attribute: the page's policy refuses both.
 */
export function element<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  setAttributes(made, attributes);
  for (const child of children) if (child !== undefined) made.append(child);
  return made;
}

/** The same for SVG. */
export function svg<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[K] {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  setAttributes(made, attributes);
  for (const child of children) if (child !== undefined) made.append(child);
  return made;
}

/** Writes what changed: a browser takes an attribute that is written as it was for a change all the same. */
export function setAttributes(target: Element, attributes: Attributes): void {
  for (const name in attributes) {
    const value = attributes[name];
    if (value === undefined || value === false) target.removeAttribute(name);
    else {
      const text = value === true ? "" : String(value);
      if (target.getAttribute(name) !== text) target.setAttribute(name, text);
    }
  }
}

/** Writes text only when it changed: while playing most of it has not. */
export function setText(target: Element, text: string): void {
  const only = target.firstChild;
  if (only instanceof Text && only.nextSibling === null) {
    if (only.data !== text) only.data = text;
  } else if (target.textContent !== text) target.textContent = text;
}
