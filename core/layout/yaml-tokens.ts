import { Parser, type CST } from "yaml";
import { STEP, type LayoutToken, type TokenKind } from "./layout-token.ts";
import { blockLines, scalarLines } from "./scalar-lines.ts";

/** A block map or list: the column in which it begins, before and after. */
interface Level {
  readonly old: number;
  readonly column: number;
  readonly parent: Level | undefined;
}

/** Where a node goes. */
interface Spot {
  /** Its column, where it is the first of its line. */
  readonly column: number;
  /** The column that brackets are counted from, where they open behind something else. */
  readonly base: number;
  readonly level: Level | undefined;
}

interface Reading {
  readonly text: string;
  readonly tokens: LayoutToken[];
  /** End of the last token. */
  at: number;
  /** Column of the line that is being written. */
  line: number;
  /** Columns that the open brackets are counted from. */
  readonly brackets: number[];
  /** The innermost block around the last token that is no comment. */
  level: Level | undefined;
  /** Comments on lines of their own, until what follows them is known. */
  comments: { readonly index: number; readonly old: number; readonly before: Level | undefined }[];
  /** The line ends that come next belong to a block scalar. */
  keeps: boolean;
  /** The next token goes to a line of its own. */
  breaksNext: boolean;
}

/** The tokens of a YAML text without faults, and whether the line ends behind the last belong to a scalar. */
export function yamlTokens(text: string): { readonly tokens: readonly LayoutToken[]; readonly keepsEnd: boolean } {
  const reading: Reading = {
    text,
    tokens: [],
    at: text.charCodeAt(0) === 0xfeff ? 1 : 0,
    line: 0,
    brackets: [],
    level: undefined,
    comments: [],
    keeps: false,
    breaksNext: false,
  };
  const root: Spot = { column: 0, base: 0, level: undefined };
  for (const token of new Parser().parse(text)) {
    if (token.type === "document") {
      putAll(reading, token.start, root);
      if (token.value) putNode(reading, token.value, root);
      putAll(reading, token.end, root);
    } else {
      putSource(reading, token as CST.SourceToken, root);
      if (token.type === "doc-end") putAll(reading, token.end, root);
    }
  }
  placeComments(reading, undefined);
  return { tokens: reading.tokens, keepsEnd: reading.keeps };
}

const KINDS: Readonly<Partial<Record<CST.TokenType | "directive", TokenKind>>> = {
  comment: "comment",
  anchor: "property",
  tag: "property",
  "seq-item-ind": "dash",
  "explicit-key-ind": "question",
  "map-value-ind": "colon",
  comma: "comma",
  "flow-map-start": "open",
  "flow-seq-start": "open",
  "flow-map-end": "close",
  "flow-seq-end": "close",
  "block-scalar-header": "scalar",
  "doc-start": "marker",
  "doc-end": "marker",
  directive: "marker",
};

function putAll(reading: Reading, sources: readonly CST.SourceToken[] | undefined, spot: Spot): void {
  for (const source of sources ?? []) putSource(reading, source, spot);
}

/** Blanks and line ends are what stands between tokens: they are passed over. */
function putSource(reading: Reading, { type, offset, source }: CST.SourceToken, spot: Spot): void {
  const kind = KINDS[type];
  if (kind) put(reading, kind, offset, offset + source.trimEnd().length, spot);
}

function put(reading: Reading, kind: TokenKind, start: number, end: number, { column, level }: Spot): void {
  const { text, tokens, brackets } = reading;
  const between = text.slice(reading.at, start);
  const written = (between.match(/\n/g) ?? []).length;
  const breaks = tokens.length === 0 ? 0 : Math.max(written, reading.breaksNext ? 1 : 0);
  const isFlow = brackets.length > 0;
  const own = isFlow ? brackets[brackets.length - 1] + (kind === "close" ? 0 : STEP) : column;
  const isFirst = breaks > 0 || tokens.length === 0;
  if (kind === "comment" && isFirst && !isFlow) {
    reading.comments.push({ index: tokens.length, old: columnOf(text, start), before: reading.level });
  } else if (kind !== "comment") {
    placeComments(reading, level);
    reading.level = level;
  }
  const isEmpty = kind === "close" && tokens[tokens.length - 1]?.kind === "open";
  tokens.push({
    kind,
    start,
    end,
    breaks: isEmpty ? 0 : breaks,
    keepsBreaks: reading.keeps || kind === "more",
    column: own,
  });
  if (isFirst) reading.line = own;
  reading.at = end;
  reading.keeps = false;
  reading.breaksNext = false;
}

/** Columns of the comments that wait: each goes along with the block that it is indented for. */
function placeComments(reading: Reading, after: Level | undefined): void {
  for (const { index, old, before } of reading.comments) {
    const column = commentColumn(old, [...around(after), ...around(before).reverse()]);
    reading.tokens[index] = { ...reading.tokens[index], column };
  }
  if (reading.comments.length > 0) reading.comments = [];
}

/** The innermost block that begins no further in than the comment; of two in one column, the first of `levels`. */
function commentColumn(old: number, levels: readonly Level[]): number {
  let best: Level | undefined;
  for (const level of levels) if (level.old <= old && (!best || level.old > best.old)) best = level;
  return best?.column ?? 0;
}

/** A block and all that it stands in, the innermost first. */
function around(level: Level | undefined): Level[] {
  const levels: Level[] = [];
  for (let each = level; each; each = each.parent) levels.push(each);
  return levels;
}

const columnOf = (text: string, offset: number): number => offset - (text.lastIndexOf("\n", offset - 1) + 1);

function putNode(reading: Reading, node: CST.Token, spot: Spot): void {
  switch (node.type) {
    case "block-map":
      return putMap(reading, node, spot);
    case "block-seq":
      return putList(reading, node, spot);
    case "flow-collection":
      return putFlow(reading, node, spot);
    case "block-scalar":
      return putBlockScalar(reading, node, spot);
    case "alias":
    case "scalar":
    case "single-quoted-scalar":
    case "double-quoted-scalar":
      scalarLines(node.source, node.type === "double-quoted-scalar").forEach(({ start, end }, idx) => {
        const kind = idx > 0 ? "more" : node.type === "alias" ? "alias" : "scalar";
        put(reading, kind, node.offset + start, node.offset + end, spot);
      });
      return putAll(reading, node.end, spot);
    default:
      return putSource(reading, node as CST.SourceToken, spot);
  }
}

function putMap(reading: Reading, { items }: CST.BlockMap, { column, level: parent }: Spot): void {
  const level: Level = { old: columnOf(reading.text, firstOffset(items) ?? reading.at), column, parent };
  const own: Spot = { column, base: column, level };
  const inner: Spot = { column: column + STEP, base: column, level };
  for (const { start, key, sep, value } of items) {
    putAll(reading, start, own);
    const isExplicit = start.some(({ type }) => type === "explicit-key-ind");
    if (key) putNode(reading, key, isExplicit ? { ...inner, base: inner.column } : own);
    for (const source of sep ?? []) putSource(reading, source, source.type === "map-value-ind" ? own : inner);
    if (value) putNode(reading, value, isExplicit ? { ...inner, base: inner.column } : inner);
  }
}

function putList(reading: Reading, { items }: CST.BlockSequence, { column, level: parent }: Spot): void {
  const level: Level = { old: columnOf(reading.text, firstOffset(items) ?? reading.at), column, parent };
  const own: Spot = { column, base: column, level };
  const inner: Spot = { column: column + STEP, base: column + STEP, level };
  for (const { start, value } of items) {
    for (const source of start) {
      putSource(reading, source, source.type === "seq-item-ind" ? own : inner);
    }
    if (value) putNode(reading, value, inner);
  }
}

/** Where the first thing of a block stands that is neither blank nor comment. */
function firstOffset(items: readonly CST.CollectionItem[]): number | undefined {
  for (const { start, key, sep } of items) {
    const mark = [...start, ...(key ? [key] : []), ...(sep ?? [])].find(
      ({ type }) => type !== "space" && type !== "newline" && type !== "comment",
    );
    if (mark) return mark.offset;
  }
  return undefined;
}

function putFlow(reading: Reading, node: CST.FlowCollection, spot: Spot): void {
  const { brackets, text, tokens } = reading;
  const close = node.end.find(({ type }) => type === "flow-map-end" || type === "flow-seq-end");
  const before = tokens[tokens.length - 1];
  const outer = brackets[brackets.length - 1] as number | undefined;
  // A line that begins with a closing bracket must stand further in than the name that all is the value of.
  const closesLine =
    outer === undefined && /[^{[\s]\s*\n\s*[}\]]/.test(text.slice(node.offset, (close?.offset ?? 0) + 1));
  if (closesLine && before?.kind === "colon") reading.breaksNext = true;
  const isFirst = reading.breaksNext || text.slice(reading.at, node.offset).includes("\n");
  put(reading, "open", node.start.offset, node.start.offset + 1, spot);
  if (outer !== undefined) brackets.push(Math.max(reading.line, outer));
  else brackets.push(isFirst ? spot.column : closesLine && before?.kind === "property" ? spot.column : spot.base);
  for (const { start, key, sep, value } of node.items) {
    putAll(reading, start, spot);
    if (key) putNode(reading, key, spot);
    putAll(reading, sep, spot);
    if (value) putNode(reading, value, spot);
  }
  for (const source of node.end) {
    putSource(reading, source, spot);
    if (source === close) brackets.pop();
  }
}

function putBlockScalar(reading: Reading, node: CST.BlockScalar, spot: Spot): void {
  for (const prop of node.props) putSource(reading, prop as CST.SourceToken, spot);
  const header = node.props.find(({ type }) => type === "block-scalar-header");
  const mark = header && "source" in header ? header.source : "";
  const digit = Number(/[1-9]/.exec(mark)?.[0] ?? 0);
  const { level } = spot;
  const lines = blockLines(node.source, digit > 0 ? (level?.old ?? 0) + digit : undefined);
  const last = node.props[node.props.length - 1];
  const begin = last.offset + ("source" in last ? last.source.length : 0);
  // At the root there is nothing that the text must stand further in than.
  const column = digit > 0 ? (level?.column ?? 0) + digit : level ? spot.column : lines.indent;
  for (const { start, end, extra } of lines.pieces) {
    put(reading, "more", begin + start, begin + end, { ...spot, column: column + extra });
  }
  reading.keeps = mark.includes("+");
}
