import { resolveReference } from "../../../core/base/path.ts";
import { PLAIN_QUANTITIES, quantitiesOf, SUBJECTS, type Subject } from "../../../core/base/quantities.ts";
import type { FileId, Span } from "../../../core/base/span.ts";
import { parseQuantity } from "../../../core/base/units.ts";
import { assetKind } from "../../../core/model/asset-kind.ts";
import { documentKind, type DocumentKind } from "../../../core/model/document-kind.ts";
import type { Sources } from "../../../core/model/sources.ts";
import type { NameKind, ReferenceKind } from "../../../core/schema/facts.ts";
import { readUrdf } from "../../../core/urdf/read-urdf.ts";
import {
  entryOf,
  valueOf,
  type MapNode,
  type ScalarNode,
  type Tree,
  type TreeNode,
} from "../../../core/syntax/tree.ts";
import { itemPlaces, rootPlaces, scalarsOf, type ShapePlace } from "../shape-walk.ts";

/** A name as it stands in a text. */
export interface WrittenName {
  readonly kind: NameKind;
  readonly role: "definition" | "use";
  readonly name: string;
  /** Without quotes. */
  readonly span: Span;
  /** For a use: the files that it is looked up in beside its own; absent where nothing around it names one. */
  readonly scope?: readonly FileId[];
}

/** A file that a text names. */
export interface WrittenReference {
  readonly to: ReferenceKind;
  readonly file: FileId;
  /** The path alone, without quotes. */
  readonly span: Span;
  /** All of the scalar that it stands in. */
  readonly whole: Span;
}

/** All names and references of one document, in the order of the text. */
export interface NamedDocument {
  readonly file: FileId;
  readonly names: readonly WrittenName[];
  readonly references: readonly WrittenReference[];
  /** What people call it, where the document says so. */
  readonly title?: { readonly text: string; readonly span: Span };
}

export function namedDocument(file: FileId, kind: DocumentKind, text: string, tree: Tree): NamedDocument {
  const names: WrittenName[] = [];
  const references: WrittenReference[] = [];
  const visit = (node: TreeNode, places: readonly ShapePlace[], named: Named): void => {
    if (places.length === 0) return;
    if (node.kind === "scalar") {
      names.push(...scalarNames(node, text, file, places).map((name) => scoped(name, named)));
      references.push(...scalarReferences(node, text, file, places));
    }
    if (node.kind === "list") node.items.forEach((item, idx) => item && visit(item, itemPlaces(places, idx), named));
    if (node.kind !== "map") return;
    const around = namedIn(node, places, text, file, named);
    for (const entry of node.entries) {
      names.push(...entryNames(entry.name, entry.nameSpan, text, places).map((name) => scoped(name, around)));
      if (entry.value) visit(entry.value, itemPlaces(places, entry.name), around);
    }
  };
  if (tree.root) visit(tree.root, rootPlaces(kind), {});
  const title = titleOf(tree, text);
  return { file, names, references, ...(title ? { title } : {}) };
}

function titleOf(tree: Tree, text: string): NamedDocument["title"] {
  const value = valueOf((entryOf(tree.root, "title") ?? entryOf(tree.root, "name"))?.value);
  if (value?.kind !== "scalar" || typeof value.value !== "string" || value.value.trim() === "") return undefined;
  return { text: value.value.trim(), span: inner(value, text) };
}

/** The files that the maps around a place name, the innermost of each kind. */
type Named = Readonly<Partial<Record<ReferenceKind, FileId>>>;

function namedIn(map: MapNode, places: readonly ShapePlace[], text: string, from: FileId, around: Named): Named {
  const own = map.entries.flatMap(({ name, value }) =>
    value?.kind === "scalar" ? scalarReferences(value, text, from, itemPlaces(places, name)) : [],
  );
  // What a move names of a camera stands in a map of its own beside the lens: it is seen from within that map.
  return own.length === 0 ? around : { ...around, ...Object.fromEntries(own.map(({ to, file }) => [to, file])) };
}

/** Which documents define each kind of name. */
const DEFINED_IN: Readonly<Record<NameKind, readonly ReferenceKind[]>> = {
  axis: ["rig", "urdf", "set"],
  target: ["set"],
  turntable: ["set"],
  mark: ["set"],
  body: ["set", "rig"],
  lens: ["camera"],
  key: ["move"],
  pass: ["move"],
};

function scoped(name: WrittenName, named: Named): WrittenName {
  if (name.role === "definition" || name.scope) return name;
  const scope = DEFINED_IN[name.kind].flatMap((kind) => named[kind] ?? []);
  return scope.length === 0 ? name : { ...name, scope };
}

/** Gives the names of a document, or of a URDF file; `undefined` for any other file and one that is not known. */
export type ReadNames = (file: FileId) => NamedDocument | undefined;

/** The document and all that it uses, as far as their texts are known. Each once, the document first. */
export function withUsed(start: NamedDocument, read: ReadNames): readonly NamedDocument[] {
  const found = new Map<FileId, NamedDocument>([[start.file, start]]);
  for (const document of found.values()) {
    for (const { file } of document.references) {
      const used = found.has(file) ? undefined : read(file);
      if (used) found.set(file, used);
    }
  }
  return [...found.values()];
}

/** Reads names from texts and keeps them while a text stays the same. The caller owns what is kept. */
export function namesFrom(sources: Sources, treeOf: (file: FileId, text: string) => Tree): ReadNames {
  const kept = new Map<FileId, { readonly text: string; readonly named: NamedDocument }>();
  return (file) => {
    const ours = documentKind(file);
    if (!ours && assetKind(file) !== "urdf") return undefined;
    const source = sources.read(file);
    if (source.state !== "text") {
      kept.delete(file);
      return undefined;
    }
    const { text } = source;
    const known = kept.get(file);
    if (known?.text === text) return known.named;
    const named = ours ? namedDocument(file, ours.kind, text, treeOf(file, text)) : namedUrdf(file, text);
    kept.set(file, { text, named });
    return named;
  };
}

/** Joints of a URDF file that move are axes of the rig that names it. */
function namedUrdf(file: FileId, text: string): NamedDocument {
  const moving = readUrdf(text).urdf.joints.filter(({ type }) => type !== "fixed");
  const names = moving.map(({ name }): WrittenName => ({
    kind: "axis",
    role: "definition",
    name: name.value,
    span: name.span,
  }));
  return { file, names, references: [] };
}

function entryNames(name: string, span: Span, text: string, places: readonly ShapePlace[]): WrittenName[] {
  return places.flatMap(({ shape }) =>
    shape.kind === "record" && shape.names ? [{ ...shape.names, name, span: inner(span, text) }] : [],
  );
}

/** A scalar that may be a word or a quantity as well is a name only when it is neither. */
function scalarNames(node: ScalarNode, text: string, from: FileId, places: readonly ShapePlace[]): WrittenName[] {
  if (typeof node.value !== "string") return [];
  const written = node.value;
  const all = scalarsOf(places).map(({ facts }) => facts);
  const isOther = all.some(
    (facts) =>
      (facts.type === "word" && Object.hasOwn(facts.words, written)) ||
      (facts.type === "quantity" && parseQuantity(written, facts.dimension).ok),
  );
  if (isOther) return [];
  const span = inner(node, text);
  return all.flatMap((facts): WrittenName[] => {
    if (facts.type === "name") return [{ kind: facts.kind, role: facts.role, name: written.trim(), span }];
    if (facts.type === "move-key") return keyNames(written, span, from);
    return facts.type === "measure" ? measuredNames(written, span) : [];
  });
}

/** `pan.speed` uses the axis `pan`, `lid.distance` the target `lid`; `camera.speed` uses no name. */
function measuredNames(written: string, span: Span): WrittenName[] {
  const dot = written.indexOf(".");
  if (dot < 0 || PLAIN_QUANTITIES.some((quantity) => quantity === written)) return [];
  const [name, word] = [written.slice(0, dot), written.slice(dot + 1)];
  const able = (Object.keys(SUBJECTS) as Subject[]).filter((subject) => quantitiesOf(subject).has(word));
  // An unfinished word may still be of anything that an axis does.
  const subjects: readonly Subject[] = able.length > 0 ? able : ["AXIS"];
  return subjects.map((subject) => ({
    kind: SUBJECTS[subject],
    role: "use",
    name,
    span: { start: span.start, end: span.start + name.length },
  }));
}

/** `lid.move.yaml#top` uses the key `top` of that move. */
function keyNames(written: string, span: Span, from: FileId): WrittenName[] {
  const hash = written.lastIndexOf("#");
  const [path, name] = [written.slice(0, hash).trim(), written.slice(hash + 1).trim()];
  if (hash <= 0 || path === "" || name === "") return [];
  const start = span.start + hash + 1;
  const scope = [resolveReference(from, path)];
  return [{ kind: "key", role: "use", name, scope, span: { start, end: span.end } }];
}

function scalarReferences(
  node: ScalarNode,
  text: string,
  from: FileId,
  places: readonly ShapePlace[],
): WrittenReference[] {
  if (typeof node.value !== "string" || node.value.trim() === "") return [];
  const [path, key] = node.value.trim().split("#");
  const span = inner(node, text);
  const whole = { start: node.start, end: node.end };
  return scalarsOf(places).flatMap(({ facts }): WrittenReference[] => {
    if (facts.type === "reference")
      return [{ to: facts.to, file: resolveReference(from, String(node.value).trim()), span, whole }];
    const isMoveKey = facts.type === "move-key" && key !== undefined && path !== "";
    const end = span.start + path.length;
    const file = resolveReference(from, path);
    return isMoveKey ? [{ to: "move", file, span: { start: span.start, end }, whole }] : [];
  });
}

/** A node without the quotes around it. */
function inner(span: Span, text: string): Span {
  const mark = text[span.start];
  const isQuoted = (mark === '"' || mark === "'") && span.end - span.start >= 2 && text[span.end - 1] === mark;
  return isQuoted ? { start: span.start + 1, end: span.end - 1 } : { start: span.start, end: span.end };
}
