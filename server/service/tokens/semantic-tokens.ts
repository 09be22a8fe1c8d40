import { firstWhere } from "../../../core/base/bisect.ts";
import { DOCUMENT_CODES, MOTION_CODES } from "../../../core/base/finding-code.ts";
import { PLAIN_QUANTITIES } from "../../../core/base/quantities.ts";
import type { Span } from "../../../core/base/span.ts";
import type { ScalarFacts } from "../../../core/schema/facts.ts";
import type { MapEntry, ScalarNode, TreeNode } from "../../../core/syntax/tree.ts";
import { definitionsFor, namesOfView } from "../names/definition.ts";
import { itemPlaces, rootPlaces, scalarsOf, type ShapePlace } from "../shape-walk.ts";
import { NAME_TYPES, type TokenModifier, type TokenType } from "./token-legend.ts";
import { markTokens } from "./token-marks.ts";
import type { View } from "../view.ts";
import type { NamedDocument, WrittenName } from "../names/written-names.ts";

/** A piece of a line and what it is. */
export interface SemanticToken extends Span {
  readonly type: TokenType;
  readonly modifiers: ReadonlySet<TokenModifier>;
}

const CODES: ReadonlySet<string> = new Set([...DOCUMENT_CODES, ...MOTION_CODES]);

/** Fields that state what a part can do: a move cannot change them. */
const LIMIT_FIELDS = new Set(["limits", "limit", "range", "positions"]);

interface Walk {
  readonly view: View;
  readonly document: NamedDocument;
  /** What is asked for; the rest is passed over. */
  readonly within: Span;
  readonly tokens: SemanticToken[];
  /** What may stand one step further in, by what may stand here: the keys of a move are all alike. */
  readonly steps: WeakMap<readonly ShapePlace[], Map<string | number, readonly ShapePlace[]>>;
}

interface Around {
  readonly places: readonly ShapePlace[];
  /** Inside a field that states a limit. */
  readonly isLimit: boolean;
}

/**
 * What the words and numbers of a document mean, in order of place; none goes over a line end, and no two overlap. Comments and
 * free texts are left to the grammar.
 *
 * @param within Only what touches this span.
 */
export function semanticTokens(
  view: View,
  within: Span = { start: 0, end: view.text.length },
): readonly SemanticToken[] {
  const walk: Walk = { view, document: namesOfView(view), within, tokens: [], steps: new WeakMap() };
  const root = view.tree.root;
  if (root) visit(walk, root, { places: rootPlaces(view.kind), isLimit: false });
  return markTokens(view, walk.tokens);
}

function visit(walk: Walk, node: TreeNode, around: Around): void {
  if (!touches(walk, node)) return;
  if (node.kind === "list") {
    node.items.forEach((item, idx) => {
      if (item && touches(walk, item)) visit(walk, item, { ...around, places: stepTo(walk, around.places, idx) });
    });
  } else if (node.kind === "map") {
    for (const entry of node.entries)
      if (touches(walk, entry)) visitEntry(walk, entry, node === walk.view.tree.root, around);
  } else if (node.kind === "scalar") {
    scalarTokens(walk, node, around);
  }
}

const touches = ({ within }: Walk, { start, end }: Span): boolean => start <= within.end && within.start <= end;

function visitEntry(
  walk: Walk,
  { name, nameSpan, value }: MapEntry,
  isTop: boolean,
  { places, isLimit }: Around,
): void {
  const span = withoutQuotes(nameSpan, walk.view.text);
  const records = places.flatMap(({ shape }) => (shape.kind === "record" ? [shape] : []));
  const [named] = namesAt(walk.document, span.start);
  if (named) putName(walk, named);
  else if (records.some(({ known }) => known?.includes(name))) put(walk, span, "enumMember");
  else put(walk, span, isTop && name === walk.view.kind ? "keyword" : "property");
  if (!value) return;
  visit(walk, value, { places: stepTo(walk, places, name), isLimit: isLimit || LIMIT_FIELDS.has(name) });
}

function stepTo({ steps }: Walk, places: readonly ShapePlace[], step: string | number): readonly ShapePlace[] {
  const known = steps.get(places) ?? new Map<string | number, readonly ShapePlace[]>();
  steps.set(places, known);
  // Items of a list are alike, those of a list of fixed length are not.
  const isAlike = typeof step === "number" && !places.some(({ shape }) => shape.kind === "tuple");
  const name = isAlike ? 0 : step;
  const found = known.get(name) ?? itemPlaces(places, step);
  known.set(name, found);
  return found;
}

function scalarTokens(walk: Walk, node: ScalarNode, { places, isLimit }: Around): void {
  const { text } = walk.view;
  const all = scalarsOf(places).map(({ facts }) => facts);
  if (all.length === 0 || node.style === "block") return;
  const span = withoutQuotes(node, text);
  if (all.some((facts) => facts.type === "word" && Object.hasOwn(facts.words, String(node.value)))) {
    return put(walk, span, typeof node.value === "boolean" ? "keyword" : "enumMember");
  }
  if (typeof node.value === "boolean") return put(walk, span, "keyword");
  // Codes are free text to the tables, since those of other versions may stand there.
  if (places.some(({ field }) => field?.name === "code") && CODES.has(String(node.value))) {
    return put(walk, span, "enumMember");
  }
  if (all.some((facts) => facts.type === "measure")) return measureTokens(walk, span);
  if (all.some(({ type }) => type === "reference")) return put(walk, span, "string");
  if (all.some(({ type }) => type === "move-key")) return moveKeyTokens(walk, span);
  const [name] = namesAt(walk.document, span.start);
  if (name) putName(walk, name);
  else if (all.some(({ type }) => NUMBERS.has(type))) numberTokens(walk, span, isLimit);
}

/** `lid.move.yaml#top`: a file, and a key of it. */
function moveKeyTokens(walk: Walk, { start, end }: Span): void {
  const hash = walk.view.text.slice(start, end).lastIndexOf("#");
  put(walk, { start, end: hash > 0 ? start + hash : end }, "string");
  const [name] = hash > 0 ? namesAt(walk.document, start + hash + 1) : [];
  if (name) putName(walk, name);
}

const NUMBERS: ReadonlySet<ScalarFacts["type"]> = new Set([
  "quantity",
  "axis-quantity",
  "ratio",
  "time",
  "label",
  "rate",
  "count",
  "version",
  "written",
]);
const TIMECODE = /^\d{1,2}:\d{2}:\d{2}[:;.]\d{2,3}$/;
const NUMBER = /^([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)(\s*)(\S.*)?$/;

/** A number and its unit, each by itself. */
function numberTokens(walk: Walk, { start, end }: Span, isLimit: boolean): void {
  const modifiers: readonly TokenModifier[] = isLimit ? ["readonly"] : [];
  const written = walk.view.text.slice(start, end);
  if (TIMECODE.test(written)) return put(walk, { start, end }, "number", modifiers);
  const found = NUMBER.exec(written);
  if (!found) return;
  const [, number, blanks, unit] = found;
  put(walk, { start, end: start + number.length }, "number", modifiers);
  if (unit) put(walk, { start: start + number.length + blanks.length, end }, "unit");
}

/** `pan.speed`: a name, and what is measured of it; `camera.speed` is one quantity. */
function measureTokens(walk: Walk, span: Span): void {
  const written = walk.view.text.slice(span.start, span.end);
  const names = namesAt(walk.document, span.start);
  if (names.length === 0 || PLAIN_QUANTITIES.some((quantity) => quantity === written))
    return put(walk, span, "property");
  // A word that both axes and targets have: the one that is there.
  const isThere = (name: WrittenName) => definitionsFor(walk.document, name, walk.view.names).length > 0;
  const name = names.length === 1 ? names[0] : (names.find(isThere) ?? names[0]);
  putName(walk, name);
  put(walk, { start: name.span.end + 1, end: span.end }, "property");
}

/** The names that begin at an offset: of several kinds where a field takes several. */
function namesAt({ names }: NamedDocument, start: number): readonly WrittenName[] {
  const low = firstWhere(0, names.length, (idx) => names[idx].span.start >= start);
  let end = low;
  while (names[end]?.span.start === start) end += 1;
  return names.slice(low, end);
}

function putName(walk: Walk, { kind, role, span }: WrittenName): void {
  put(walk, span, NAME_TYPES[kind], role === "definition" ? ["declaration"] : []);
}

function put(walk: Walk, { start, end }: Span, type: TokenType, modifiers: readonly TokenModifier[] = []): void {
  if (start >= end || !touches(walk, { start, end }) || /[\r\n]/.test(walk.view.text.slice(start, end))) return;
  walk.tokens.push({ start, end, type, modifiers: new Set(modifiers) });
}

function withoutQuotes({ start, end }: Span, text: string): Span {
  const mark = text[start];
  const isQuoted = (mark === '"' || mark === "'") && end - start >= 2 && text[end - 1] === mark;
  return isQuoted ? { start: start + 1, end: end - 1 } : { start, end };
}
