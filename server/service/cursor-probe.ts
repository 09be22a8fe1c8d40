import type { Span } from "../../core/base/span.ts";
import type { Path } from "../../core/syntax/locate.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import type { Tree, TreeNode } from "../../core/syntax/tree.ts";

/** What may be written at a cursor: a name of the map at `path`, or the value at `path`. */
export interface Cursor {
  readonly role: "name" | "value";
  readonly path: Path;
  /** The word that a completion replaces. Without the quotes of a quoted word. */
  readonly word: Span;
  /** True inside quotes: they are there already. */
  readonly inQuotes: boolean;
  /** The quote that is open at the word; empty outside quotes. */
  readonly opening: string;
  /** Other names of the map; for a value, of the map that it stands in. */
  readonly siblings: readonly string[];
  /** True where the name has its colon already. */
  readonly hasColon: boolean;
  /** True right after a colon, where a space must come before the value. */
  readonly needsSpace: boolean;
  /** True inside brackets: of a flow map or list, and everywhere in JSON. */
  readonly flow: boolean;
  /** True where a dash must come before what is written: a line of a block list that has none yet. */
  readonly needsDash: boolean;
  /** True where what follows needs a comma before it. */
  readonly needsComma: boolean;
}

/** A word that nobody writes; it is put at the cursor and looked for in the tree. */
const MARK = "zzcursorzz";

/**
 * Finds what may be written at `offset`, in broken and unfinished text too: the word there is replaced by a mark, in the few
 * ways in which text can go on, and the first way that reads no worse than the text does now says where the mark stands.
 */
export function probeCursor(
  text: string,
  format: "yaml" | "json",
  offset: number,
  parse: Parse = (other) => parseTree(other, format),
): Cursor | undefined {
  const spot = spotAt(text, format, offset);
  const found = search(text, format, spot, parse) ?? searchMended(text, format, spot, parse);
  return found && { ...found, ...spot, flow: found.flow || format === "json" };
}

/** Gives the tree of one version of the text. */
type Parse = (text: string) => Tree;

function search(text: string, format: "yaml" | "json", spot: Spot, parse: Parse): Found | undefined {
  const before = parse(text).problems.length;
  let best: { readonly found: Found; readonly problems: number } | undefined;
  for (const way of ways(text, format, spot)) {
    const tree = parse(way.text);
    const mark = findMark(tree);
    const found = mark && { ...mark, needsDash: way.dash === true, needsComma: way.comma === true };
    if (!found || (best && tree.problems.length >= best.problems)) continue;
    best = { found, problems: tree.problems.length };
    // A word alone on its line may be a problem of the text itself: then no way is left out.
    if (tree.problems.length === 0 && !spot.isOpen) break;
    if (tree.problems.length <= before && !spot.isOpen && !spot.isAlone) break;
  }
  return best?.found;
}

/** A bracket left open on an earlier line can swallow the cursor: a second look with such lines closed at their ends. */
function searchMended(text: string, format: "yaml" | "json", spot: Spot, parse: Parse): Found | undefined {
  const head = text.slice(0, spot.lineStart).replace(/[^\r\n]+/g, (line) => line + scanLine(line).closers);
  const shift = head.length - spot.lineStart;
  if (shift === 0) return undefined;
  const word = { start: spot.word.start + shift, end: spot.word.end + shift };
  return search(head + text.slice(spot.lineStart), format, { ...spot, word, lineEnd: spot.lineEnd + shift }, parse);
}

interface Spot {
  readonly word: Span;
  readonly inQuotes: boolean;
  readonly opening: string;
  readonly hasColon: boolean;
  readonly needsSpace: boolean;
  /** True where brackets opened on this line are not closed on it. */
  readonly isOpen: boolean;
  /** True for a word, or none, that nothing stands before on its line. */
  readonly isAlone: boolean;
  /** What would close them. */
  readonly closers: string;
  readonly lineStart: number;
  readonly lineEnd: number;
}

const WORD_END = { yaml: /[\s,:{}[\]"'#]/, json: /[\s,:{}[\]"]/ } as const;

function spotAt(text: string, format: "yaml" | "json", offset: number): Spot {
  const lineStart = Math.max(text.lastIndexOf("\n", offset - 1), text.lastIndexOf("\r", offset - 1)) + 1;
  const lineRest = text.slice(offset).search(/[\r\n]/);
  const lineEnd = lineRest < 0 ? text.length : offset + lineRest;
  const { quote, closers } = scanLine(text.slice(lineStart, offset));
  const ends = quote === undefined ? WORD_END[format] : new RegExp(quote.mark);
  const endsAt = (at: number): boolean =>
    // Within a word `#` begins no comment: it joins a move and its key.
    ends.test(text[at]) && !(quote === undefined && text[at] === "#" && lineStart < at && !ends.test(text[at - 1]));
  let start = offset;
  const from = quote === undefined ? lineStart : lineStart + quote.at + 1;
  while (start > from && !endsAt(start - 1)) start -= 1;
  let end = offset;
  while (end < lineEnd && !endsAt(end)) end += 1;
  const after = text.slice(quote === undefined ? end : end + 1, lineEnd);
  return {
    word: { start, end },
    inQuotes: quote !== undefined,
    opening: quote?.mark ?? "",
    hasColon: /^\s*:/.test(after),
    needsSpace: format === "yaml" && text[start - 1] === ":",
    isOpen: closers !== "" && scanLine(text.slice(lineStart, lineEnd)).closers !== "",
    isAlone: quote === undefined && text.slice(lineStart, start).trim() === "" && !/^\s*:/.test(after),
    closers,
    lineStart,
    lineEnd,
  };
}

/** The quote that is open at the end of a piece of a line, and the brackets, the innermost closed first. */
function scanLine(piece: string): {
  readonly quote?: { readonly mark: string; readonly at: number };
  readonly closers: string;
} {
  let quote: { readonly mark: string; readonly at: number } | undefined;
  let closers = "";
  for (let at = 0; at < piece.length; at += 1) {
    const mark = piece[at];
    if (quote) {
      if (mark === "\\" && quote.mark === '"') at += 1;
      else if (mark === quote.mark) quote = undefined;
    } else if (mark === '"' || (mark === "'" && /[\s[{,:]/.test(piece[at - 1] ?? " "))) quote = { mark, at };
    else if (mark === "{") closers = `}${closers}`;
    else if (mark === "[") closers = `]${closers}`;
    else if (mark === "}" || mark === "]") closers = closers.slice(1);
  }
  return { quote, closers };
}

/** A text with the mark in it, and what had to be put beside the mark. */
interface Way {
  readonly text: string;
  readonly dash?: boolean;
  readonly comma?: boolean;
}

/** The text with the mark in it, likeliest way first. */
function ways(text: string, format: "yaml" | "json", spot: Spot): Way[] {
  const { word, inQuotes, hasColon, needsSpace, closers, lineEnd } = spot;
  const head = text.slice(0, word.start) + (needsSpace ? " " : "");
  const quote = inQuotes ? text[word.start - 1] : "";
  const tail = text.slice(word.end);
  const isClosed = !inQuotes || tail.startsWith(quote);
  const rest = text.slice(lineEnd);
  if (format === "json") {
    const name = inQuotes ? MARK : `"${MARK}"`;
    const end = isClosed ? "" : '"';
    const [asValue, asName] = [name + end, `${name}${inQuotes && isClosed ? '"' : end}: 0`];
    const rawTail = inQuotes && isClosed ? tail.slice(1) : tail;
    const plainWays: Way[] = hasColon
      ? [{ text: head + asValue + tail }]
      : [
          { text: head + asValue + tail },
          { text: head + asName + rawTail },
          { text: `${head + asName},${rawTail}`, comma: true },
          { text: `${head + asValue},${tail}`, comma: true },
        ];
    const cutWays: Way[] = [
      { text: `${head + asName + closers}${rest}` },
      { text: `${head + name}"${closers}${rest}` },
    ];
    return [...plainWays, ...(spot.isOpen || !isClosed ? cutWays : [])];
  }
  const line = head.slice(Math.max(head.lastIndexOf("\n"), head.lastIndexOf("\r")) + 1);
  const end = isClosed ? "" : quote;
  const asValue = head + MARK + end + tail;
  const asName = hasColon
    ? asValue
    : `${head}${MARK}${inQuotes && isClosed ? quote : end}: ${inQuotes && isClosed ? tail.slice(1) : tail}`;
  const beginsLine = /^\s*(-\s+)*['"]?$/.test(line);
  const plainTexts = hasColon ? [asValue] : beginsLine ? [asName, asValue] : [asValue, asName];
  const plainWays: Way[] = plainTexts.map((each) => ({ text: each }));
  if (spot.isOpen) plainWays.push({ text: `${head}${MARK}${end}${closers}${rest}` });
  return spot.isAlone ? [...plainWays, { text: `${head}- ${MARK}: ${tail}`, dash: true }] : plainWays;
}

interface Mark {
  readonly role: "name" | "value";
  readonly path: Path;
  readonly siblings: readonly string[];
  readonly flow: boolean;
}

type Found = Mark & Pick<Cursor, "needsDash" | "needsComma">;

function findMark(tree: Tree): Mark | undefined {
  return tree.root && findIn(tree.root, [], { siblings: [], flow: false });
}

function findIn(node: TreeNode, path: Path, around: Pick<Mark, "siblings" | "flow">): Mark | undefined {
  if (node.kind === "scalar") return node.value === MARK ? { role: "value", path, ...around } : undefined;
  if (node.kind === "list") {
    for (let idx = 0; idx < node.items.length; idx += 1) {
      const item = node.items[idx];
      const found = item && findIn(item, [...path, idx], { ...around, flow: node.flow });
      if (found) return found;
    }
  }
  if (node.kind === "map") {
    const names = node.entries.map((entry) => entry.name).filter((name) => name !== MARK);
    for (const { name, value } of node.entries) {
      if (name === MARK) return { role: "name", path, siblings: names, flow: node.flow };
      const found = value && findIn(value, [...path, name], { siblings: names, flow: node.flow });
      if (found) return found;
    }
  }
  return undefined;
}
