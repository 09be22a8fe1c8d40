import type { Span } from "../base/span.ts";
import { MAX_DEPTH } from "./caps.ts";
import { reportDoubles } from "./yaml-tree.ts";
import type { Comment, MapEntry, Scalar, Tree, TreeNode, TreeProblem } from "./tree.ts";

interface Reader {
  readonly text: string;
  at: number;
  readonly comments: Comment[];
  readonly problems: TreeProblem[];
  /** Set once nesting went too deep: the rest is left unread. */
  stopped: boolean;
}

/** RFC 8259, read on after each error: trailing commas, comments and loose names are findings, not accepted silently. */
export function parseJson(text: string): Tree {
  const reader: Reader = {
    text,
    at: text.charCodeAt(0) === 0xfeff ? 1 : 0,
    comments: [],
    problems: [],
    stopped: false,
  };
  skipSpace(reader);
  const root = reader.at < text.length ? readValue(reader, 0) : undefined;
  skipSpace(reader);
  if (!reader.stopped && reader.at < text.length) {
    complain(reader, reader.at, reader.at + 1, "Something follows the end of the value; a JSON document is one value.");
  }
  return { format: "json", root, comments: reader.comments, problems: reader.problems };
}

/**
 * Reads values between commas from `from`, where the first begins, up to `to`, where the last must end. `undefined` when
 * they are not so, or nested too deep. Spans are those of the whole text.
 *
 * @param depth Maps and lists that they stand in.
 */
export function parseJsonItems(
  text: string,
  from: number,
  to: number,
  depth: number,
): { readonly items: readonly TreeNode[]; readonly problems: readonly TreeProblem[] } | undefined {
  const reader: Reader = { text, at: from, comments: [], problems: [], stopped: false };
  const items: TreeNode[] = [];
  for (;;) {
    skipSpace(reader);
    if (reader.at >= to || ",]}".includes(text[reader.at])) return undefined;
    const item = readValue(reader, depth);
    if (!item || reader.stopped || reader.at > to || reader.comments.length > 0) return undefined;
    items.push(item);
    if (reader.at === to) return { items, problems: reader.problems };
    skipSpace(reader);
    if (reader.at >= to || text[reader.at] !== ",") return undefined;
    reader.at += 1;
  }
}

function complain(reader: Reader, start: number, end: number, message: string, cure?: readonly [string, string]): void {
  const span: Span = { start: Math.min(start, reader.text.length), end: Math.min(end, reader.text.length) };
  if (!cure) reader.problems.push({ code: "syntax", span, message });
  else {
    const [title, text] = cure;
    reader.problems.push({ code: "syntax", span, message, cure: { title, edits: [{ span, text }] } });
  }
}

function skipSpace(reader: Reader): void {
  const { text } = reader;
  for (;;) {
    const code = text.charCodeAt(reader.at);
    if (code === 32 || code === 9 || code === 10 || code === 13) reader.at += 1;
    else if (code === 47 && (text[reader.at + 1] === "/" || text[reader.at + 1] === "*")) skipComment(reader);
    else return;
  }
}

function skipComment(reader: Reader): void {
  const { text, at: start } = reader;
  const block = text[start + 1] === "*";
  const mark = text.indexOf(block ? "*/" : "\n", start + 2);
  reader.at = mark < 0 ? text.length : block ? mark + 2 : mark;
  const inner = text.slice(start + 2, mark < 0 ? text.length : mark).trim();
  reader.comments.push({ start, end: reader.at, text: inner });
  complain(reader, start, reader.at, "JSON has no comments: delete it, or use YAML.", ["Delete the comment", ""]);
}

/** `undefined` when no value stands here; then one finding says so and nothing is consumed but a wrong character. */
function readValue(reader: Reader, depth: number): TreeNode | undefined {
  const { text, at: start } = reader;
  const first = text[start];
  if (first === "{" || first === "[") {
    if (depth >= MAX_DEPTH) {
      const message = `Maps and lists are nested more than ${MAX_DEPTH} deep here, deeper than any field needs.`;
      reader.problems.push({ code: "too-deep", span: { start, end: start + 1 }, message });
      reader.stopped = true;
      reader.at = text.length;
      return undefined;
    }
    return first === "{" ? readMap(reader, depth) : readList(reader, depth);
  }
  if (first === '"' || first === "'") {
    const value = readString(reader);
    return { kind: "scalar", start, end: reader.at, value, style: "quoted" };
  }
  return readWord(reader);
}

const NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?$/;

function readWord(reader: Reader): TreeNode | undefined {
  const { text, at: start } = reader;
  const match = /[^\s,:{}[\]"'/]+/y;
  match.lastIndex = start;
  const word = match.exec(text)?.[0];
  if (word === undefined) {
    complain(reader, start, start + 1, "A value is missing here.");
    if (text[start] !== "," && text[start] !== "}" && text[start] !== "]") reader.at += 1;
    return undefined;
  }
  reader.at += word.length;
  const made = (value: Scalar): TreeNode => ({ kind: "scalar", start, end: reader.at, value, style: "plain" });
  if (word === "true" || word === "false") return made(word === "true");
  if (word === "null") return made(null);
  if (NUMBER.test(word)) return made(Number(word));
  const number = Number(word);
  const quoted = JSON.stringify(word);
  const message = `\`${word}\` is not JSON: text stands in double quotes, a number is written like 0.5 or -2.`;
  if (Number.isFinite(number)) {
    complain(reader, start, reader.at, message, [`Write ${number}`, String(number)]);
    return made(number);
  }
  complain(reader, start, reader.at, message, [`Write ${quoted}`, quoted]);
  return made(word);
}

function readMap(reader: Reader, depth: number): TreeNode {
  const start = reader.at;
  const entries: MapEntry[] = [];
  reader.at += 1;
  readItems(reader, "}", start, () => {
    const entry = readEntry(reader, depth);
    if (entry) entries.push(entry);
  });
  reportDoubles(entries, reader.problems);
  return { kind: "map", start, end: reader.at, entries, flow: true };
}

function readList(reader: Reader, depth: number): TreeNode {
  const start = reader.at;
  const items: (TreeNode | undefined)[] = [];
  reader.at += 1;
  readItems(reader, "]", start, () => {
    items.push(readValue(reader, depth + 1));
  });
  return { kind: "list", start, end: reader.at, items, flow: true };
}

/** Items between commas up to `close`. Each turn consumes something, so that it ends on any text. */
function readItems(reader: Reader, close: "}" | "]", open: number, readItem: () => void): void {
  const { text } = reader;
  let comma = -1;
  let items = 0;
  for (;;) {
    skipSpace(reader);
    if (reader.stopped) return;
    const next = text[reader.at];
    if (next === undefined) {
      complain(reader, open, open + 1, `This \`${text[open]}\` is never closed by \`${close}\`.`);
      return;
    }
    if (next === close) {
      if (comma >= 0)
        complain(reader, comma, comma + 1, "JSON has no comma after the last item.", ["Delete the comma", ""]);
      reader.at += 1;
      return;
    }
    if (next === "}" || next === "]") {
      complain(reader, reader.at, reader.at + 1, `\`${close}\` is expected here, for the \`${text[open]}\` before.`);
      if (depthHolds(text, open, next)) return;
      reader.at += 1;
      continue;
    }
    if (next === ",") {
      complain(reader, reader.at, reader.at + 1, "A value is missing before this comma.");
      reader.at += 1;
      continue;
    }
    if (items > 0 && comma < 0) complain(reader, reader.at, reader.at + 1, "A comma is missing before this.");
    const before = reader.at;
    readItem();
    items += 1;
    if (reader.at === before) reader.at += 1;
    skipSpace(reader);
    comma = text[reader.at] === "," ? reader.at++ : -1;
  }
}

/** True when some bracket around `open` is closed by `close`, which then ends this one too. */
function depthHolds(text: string, open: number, close: string): boolean {
  return open > 0 && text.lastIndexOf(close === "}" ? "{" : "[", open - 1) >= 0;
}

function readEntry(reader: Reader, depth: number): MapEntry | undefined {
  const { text, at: start } = reader;
  const quoted = text[start] === '"' || text[start] === "'";
  const name = quoted ? readString(reader) : readLooseName(reader);
  if (name === undefined) return undefined;
  const nameSpan = { start, end: reader.at };
  skipSpace(reader);
  if (text[reader.at] !== ":") {
    complain(reader, nameSpan.start, nameSpan.end, `A colon and a value are missing after \`${name}\`.`);
    return { name, nameSpan, value: undefined, start, end: nameSpan.end };
  }
  reader.at += 1;
  skipSpace(reader);
  const value = readValue(reader, depth + 1);
  return { name, nameSpan, value, start, end: value?.end ?? nameSpan.end };
}

function readLooseName(reader: Reader): string | undefined {
  const { text, at: start } = reader;
  const match = /[^\s,:{}[\]"'/]+/y;
  match.lastIndex = start;
  const name = match.exec(text)?.[0];
  if (name === undefined) {
    complain(reader, start, start + 1, "A name in double quotes is expected here.");
    return undefined;
  }
  reader.at += name.length;
  const cure = JSON.stringify(name);
  complain(reader, start, reader.at, `The name \`${name}\` must stand in double quotes.`, [`Write ${cure}`, cure]);
  return name;
}

/** A string in double quotes, or in single ones with a finding. Ends at the line's end when it is not closed. */
function readString(reader: Reader): string {
  const { text, at: start } = reader;
  const quote = text[start];
  let end = start + 1;
  while (end < text.length && text[end] !== quote && text[end] !== "\n") end += text[end] === "\\" ? 2 : 1;
  end = Math.min(end, text.length);
  const inner = text.slice(start + 1, end);
  if (text[end] !== quote) {
    complain(reader, start, end, "This string is never closed by a quote.");
    reader.at = end;
    return inner.trimEnd();
  }
  reader.at = end + 1;
  if (quote === "'") {
    const cure = JSON.stringify(inner);
    complain(reader, start, reader.at, "JSON strings stand in double quotes.", [`Write ${cure}`, cure]);
    return inner;
  }
  if (!needsUnescape(inner)) return inner;
  return unescape(reader, inner, start);
}

function unescape(reader: Reader, inner: string, start: number): string {
  try {
    return JSON.parse(`"${inner}"`) as string;
  } catch {
    const at = start + 1 + wrongEscape(inner);
    complain(
      reader,
      at,
      at + 1,
      "This character must be escaped in a JSON string, or the escape is not one that JSON knows.",
    );
    return inner;
  }
}

const isControl = (text: string, at: number): boolean => text.charCodeAt(at) < 32;

function needsUnescape(inner: string): boolean {
  for (let i = 0; i < inner.length; i++) if (inner[i] === "\\" || isControl(inner, i)) return true;
  return false;
}

/** Where the first escape stands that JSON does not know, or the first character that must be escaped. */
function wrongEscape(inner: string): number {
  for (let i = 0; i < inner.length; i++) {
    if (isControl(inner, i)) return i;
    if (inner[i] !== "\\") continue;
    if (!/^(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/.test(inner.slice(i + 1, i + 6))) return i;
    i += 1;
  }
  return 0;
}
