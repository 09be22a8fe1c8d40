import { SaxesParser } from "saxes";
import { capital } from "../base/capital.ts";
import type { DocumentCode } from "../base/finding-code.ts";
import type { Span } from "../base/span.ts";
import { MAX_DEPTH, MAX_TEXT } from "./caps.ts";

/** Most elements of one XML text. An arm has some hundreds. More give `too-large`. */
export const MAX_ELEMENTS = 50_000;

/** An element with its attributes; text between elements is not kept. From `<` to the end of its closing tag. */
export interface XmlElement extends Span {
  readonly name: string;
  readonly nameSpan: Span;
  readonly attributes: ReadonlyMap<string, XmlAttribute>;
  readonly children: readonly XmlElement[];
}

export interface XmlAttribute {
  readonly value: string;
  /** Without the quotes. */
  readonly span: Span;
}

/** Why a text is no XML that is read. */
export interface XmlFault {
  readonly code: Extract<DocumentCode, "syntax" | "too-large" | "too-deep" | "empty-document">;
  readonly span: Span;
  readonly message: string;
}

export type XmlDocument = { readonly root: XmlElement } | { readonly fault: XmlFault };

interface Growing extends XmlElement {
  end: number;
  readonly attributes: Map<string, XmlAttribute>;
  readonly children: XmlElement[];
}

/** Ends the parser at its first fault: there is no other way to stop it, and a long broken text has millions of them. */
class Stop extends Error {
  readonly fault: XmlFault;
  constructor(fault: XmlFault) {
    super(fault.message);
    this.fault = fault;
  }
}

/**
 * Reads a text of XML 1.0. Never throws: the first fault comes in place of the tree. A document type, and with it every
 * entity that a text declares, is refused, so that nothing is ever expanded or fetched.
 */
export function parseXml(text: string): XmlDocument {
  if (text.length > MAX_TEXT) {
    const message = `The text has ${text.length} characters; at most ${MAX_TEXT} are read.`;
    return { fault: { code: "too-large", span: { start: 0, end: 0 }, message } };
  }
  if (text.trim() === "") {
    return { fault: { code: "empty-document", span: { start: 0, end: 0 }, message: "The file is empty." } };
  }
  try {
    return { root: elementsOf(text) };
  } catch (error) {
    if (error instanceof Stop) return { fault: error.fault };
    throw error;
  }
}

function elementsOf(text: string): XmlElement {
  // Forgiving a byte order mark is the parser's own affair; it then counts one character less.
  const shift = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const parser = new SaxesParser();
  const open: Growing[] = [];
  let root: Growing | undefined;
  let count = 0;
  const at = (): number => parser.position + shift;
  const stop = (code: XmlFault["code"], start: number, message: string): never => {
    const from = Math.min(Math.max(0, start), Math.max(0, text.length - 1));
    throw new Stop({ code, span: { start: from, end: from + 1 }, message });
  };
  parser.on("error", (error) => stop("syntax", at() - 1, sentence(error.message)));
  parser.on("doctype", () =>
    stop("syntax", text.lastIndexOf("<!DOCTYPE", at()), "A document type (`<!DOCTYPE`) is not read: delete it."),
  );
  parser.on("opentagstart", ({ name }) => {
    const start = text.lastIndexOf("<", at() - 2);
    if (count++ >= MAX_ELEMENTS) stop("too-large", start, `There are more than ${MAX_ELEMENTS} elements.`);
    if (open.length >= MAX_DEPTH) stop("too-deep", start, `Elements are nested more than ${MAX_DEPTH} deep.`);
    const nameSpan = { start: start + 1, end: start + 1 + name.length };
    const element: Growing = { name, nameSpan, start, end: nameSpan.end, attributes: new Map(), children: [] };
    open[open.length - 1]?.children.push(element);
    root ??= element;
    open.push(element);
  });
  parser.on("attribute", ({ name, value }) => {
    const end = at() - 1;
    const start = text.lastIndexOf(text[end], end - 1) + 1;
    open[open.length - 1].attributes.set(name, { value, span: { start, end } });
  });
  parser.on("closetag", () => {
    const element = open.pop();
    if (element) element.end = at();
  });
  // eslint-disable-next-line no-restricted-syntax -- The parser takes its text by this name; nothing is shown as markup.
  parser.write(shift === 0 ? text : text.slice(1)).close();
  return root ?? stop("syntax", 0, "There is no element in the text.");
}

/** The parser's `4:8: undefined entity.` without the place, as a sentence. */
function sentence(message: string): string {
  return capital(message.replace(/^\S*?\d+:\d+: /, "").replace(/\.?$/, "."));
}
