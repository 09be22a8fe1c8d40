import { Composer, Lexer, Parser, type CST, type ErrorCode } from "yaml";
import type { Span } from "../base/span.ts";
import { MAX_DEPTH, MAX_SYNTAX_PROBLEMS, MAX_TOKENS } from "./caps.ts";
import type { Comment, Tree, TreeProblem } from "./tree.ts";
import { treeOf } from "./yaml-tree.ts";

/** What the lexer puts before a scalar; the token after it is text whatever it begins with. */
const SCALAR_MARK = "\u001f";
const FLOW_END_MARK = "\u0018";
const CONTROL_MARKS = new Set(["\u0002", FLOW_END_MARK, SCALAR_MARK]);

/**
 * YAML 1.2, core schema, one document. Recovers from errors; never throws.
 *
 * @param around Maps and lists that the text stands in, where it is part of another.
 */
export function parseYaml(text: string, around = 0): Tree {
  return treeOfTokens(text, readTokens(text, around));
}

/** The same for a part of a text; `undefined` when a bracket or quote in it is not closed: that changes what follows. */
export function parseYamlPart(text: string, around: number): Tree | undefined {
  const read = readTokens(text, around);
  const isOpen = read.openQuote !== undefined || read.openBracket !== undefined;
  return isOpen ? undefined : treeOfTokens(text, read);
}

function treeOfTokens(text: string, read: Tokens): Tree {
  if (read.stopped) return { format: "yaml", root: undefined, comments: [], problems: [read.stopped] };
  const problems: TreeProblem[] = [];
  const composer = new Composer({ version: "1.2", schema: "core", prettyErrors: false, uniqueKeys: false });
  const documents = [...composer.compose(read.tokens, true, text.length)];
  const first = documents[0];
  const root = first ? treeOf(first, problems) : undefined;
  for (const { code, pos, message } of first ? [...first.errors, ...first.warnings] : []) {
    problems.push({
      code: "syntax",
      span: placeOf(text, code, pos, read),
      message: explain(text, code, message, read),
    });
  }
  if (documents.length > 1) {
    const start = documents[1].range[0];
    const message = "A second YAML document begins here; only the first is read. Put it into a file of its own.";
    problems.push({ code: "syntax", span: { start, end: lineEnd(text, start) }, message });
  }
  return { format: "yaml", root, comments: read.comments, problems };
}

interface Tokens {
  readonly tokens: CST.Token[];
  readonly comments: Comment[];
  readonly stopped?: TreeProblem;
  /** Where a quote opens that nothing closes. */
  readonly openQuote?: number;
  /** Where a bracket opens that nothing closes. */
  readonly openBracket?: number;
}

/** Runs the lexer and the parser, which keep a stack and do not recurse, and stops at what recursion could not bear. */
function readTokens(text: string, around: number): Tokens {
  const tokens: CST.Token[] = [];
  const comments: Comment[] = [];
  const parser = new Parser();
  let count = 0;
  let offset = 0;
  let scalarNext = false;
  let openQuote: number | undefined;
  let openBracket: number | undefined;
  const brackets: number[] = [];
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    if (CONTROL_MARKS.has(lexeme)) {
      // The lexer leaves a bracket that the indentation shows to be unclosed.
      if (lexeme === FLOW_END_MARK) openBracket ??= brackets.pop();
      scalarNext = lexeme === SCALAR_MARK;
      continue;
    }
    if (!scalarNext && lexeme.startsWith("#")) {
      comments.push({ start: offset, end: offset + lexeme.length, text: lexeme.replace(/^#+/, "").trim() });
    }
    if (!scalarNext && /^["']/.test(lexeme) && (lexeme.length < 2 || !lexeme.endsWith(lexeme[0]))) openQuote ??= offset;
    if (!scalarNext && (lexeme === "[" || lexeme === "{")) brackets.push(offset);
    if (!scalarNext && (lexeme === "]" || lexeme === "}")) brackets.pop();
    scalarNext = false;
    // The bottom of the stack is the document.
    if (parser.stack.length + around > MAX_DEPTH + 1) {
      const message = `Maps and lists are nested more than ${MAX_DEPTH} deep here, deeper than any field needs.`;
      return { tokens, comments, stopped: { code: "too-deep", span: { start: offset, end: offset + 1 }, message } };
    }
    offset += lexeme.length;
    if (++count > MAX_TOKENS) {
      const message = `The text has more than ${MAX_TOKENS} parts, too many to read. Split it, or write it as JSON.`;
      return { tokens, comments, stopped: { code: "too-large", span: { start: 0, end: 0 }, message } };
    }
  }
  for (const token of parser.end()) tokens.push(token);
  return { tokens, comments, openQuote, openBracket: openBracket ?? brackets.pop() };
}

/** A bracket or quote that is not closed is reported at its opening, not where the text ran out. */
function placeOf(text: string, code: ErrorCode, [start, end]: readonly [number, number], read: Tokens): Span {
  const opening = openingOf(code, read);
  if (opening !== undefined) return { start: opening, end: opening + 1 };
  const from = Math.min(start, text.length);
  if (from < text.length && text.charCodeAt(from) !== 10) {
    return { start: from, end: Math.min(Math.max(end, from + 1), text.length) };
  }
  const before = text.slice(0, from).trimEnd();
  return { start: Math.max(0, before.length - 1), end: before.length };
}

function openingOf(code: ErrorCode, { openQuote, openBracket }: Tokens): number | undefined {
  if (code === "MISSING_CHAR" && openQuote !== undefined) return openQuote;
  return code === "BAD_INDENT" || code === "MISSING_CHAR" ? openBracket : undefined;
}

function lineEnd(text: string, start: number): number {
  const end = text.indexOf("\n", start);
  return end < 0 ? text.length : end;
}

const NO_VALUE = "This line has no `name: value`: a colon is missing, or the indentation is off.";

const PLAIN_WORDS: Readonly<Partial<Record<ErrorCode, string>>> = {
  BLOCK_AS_IMPLICIT_KEY:
    "A second `name:` stands on this line, or the indentation is off: put it on a line of its own.",
  MULTILINE_IMPLICIT_KEY: NO_VALUE,
  TAB_AS_INDENT: "A tab indents this line: indent with spaces.",
  BAD_SCALAR_START: "A value cannot begin with this character: put the value in quotes.",
  TAG_RESOLVE_FAILED: "Tags (`!name`) are not used in these documents: delete it.",
};

function explain(text: string, code: ErrorCode, message: string, read: Tokens): string {
  const opening = openingOf(code, read);
  if (opening !== undefined) {
    const isQuote = text[opening] === '"' || text[opening] === "'";
    return `This \`${text[opening]}\` is never closed${isQuote ? "" : ", or what it holds is not indented"}.`;
  }
  if (/^Unexpected flow-(map|seq)-end/.test(message)) return "This bracket closes nothing: delete it.";
  const words = /followed by map values$/.test(message) ? NO_VALUE : PLAIN_WORDS[code];
  if (words !== undefined) return words;
  return `The YAML cannot be read here: ${message.charAt(0).toLowerCase()}${message.slice(1).replace(/\.$/, "")}.`;
}

/** One syntax problem a line, the first: what follows on the line follows from it. In order of place. */
export function firstOfEachLine(problems: readonly TreeProblem[], text: string): TreeProblem[] {
  const sorted = [...problems].sort((a, b) => a.span.start - b.span.start);
  const kept: TreeProblem[] = [];
  let lastEnd = -1;
  let count = 0;
  for (const problem of sorted) {
    if (problem.code !== "syntax") {
      kept.push(problem);
      continue;
    }
    if (problem.span.start <= lastEnd || count >= MAX_SYNTAX_PROBLEMS) continue;
    lastEnd = lineEnd(text, problem.span.start);
    count += 1;
    kept.push(problem);
  }
  return kept;
}
