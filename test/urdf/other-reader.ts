// A reader of URDF that is not ours, to compare with: npm's urdf-loader (three.js) on the DOM of @xmldom/xmldom.
import { Document, DOMParser, Element } from "@xmldom/xmldom";
import URDFLoader, { type URDFRobot } from "urdf-loader";

/** The one kind of selector that the loader asks for, which this DOM lacks: `child[link="name"]`. */
function querySelector(this: Element, selector: string): Element | null {
  const [, tag, attribute, value] = /^(\w+)\[(\w+)="(.*)"\]$/.exec(selector) ?? [];
  return Array.from(this.getElementsByTagName(tag)).find((each) => each.getAttribute(attribute) === value) ?? null;
}

export function readWithOther(text: string): URDFRobot {
  Object.assign(Element.prototype, { querySelector });
  // The loader asks for these by their names in a browser.
  Object.assign(globalThis, { Document, Element });
  return new URDFLoader().parse(new DOMParser().parseFromString(text, "text/xml") as never);
}
