import type { FileId, Place, Span } from "../../../core/base/span.ts";
import type { NameKind } from "../../../core/schema/facts.ts";
import { namedDocument, withUsed, type NamedDocument, type ReadNames, type WrittenName } from "./written-names.ts";
import type { View } from "../view.ts";

/** Where a name goes: the text at the cursor, and the places it leads to. */
export interface Definition {
  readonly span: Span;
  readonly places: readonly Place[];
}

/** Where the name or file at `offset` is defined. On a definition: that definition. */
export function definitionAt(view: View, offset: number): Definition | undefined {
  const document = namesOfView(view);
  const reference = document.references.find(({ span }) => holds(span, offset));
  if (reference) return { span: reference.span, places: [{ file: reference.file, span: { start: 0, end: 0 } }] };
  const name = document.names.find(({ span }) => holds(span, offset));
  return name && { span: name.span, places: definitionsFor(document, name, view.names) };
}

/**
 * Where a name that stands in `document` is defined: in the document itself, or in what the maps around the name refer to.
 * Where they refer to nothing, in anything that the document uses.
 */
export function definitionsFor(document: NamedDocument, name: WrittenName, read: ReadNames): Place[] {
  const used = withUsed(document, read);
  if (name.role === "definition" || !name.scope) return definitionsOf(name, used);
  const near = new Set([document.file, ...name.scope]);
  // The axes of a rig may stand in the URDF file that it names.
  for (const each of used) {
    if (near.has(each.file)) for (const { to, file } of each.references) if (to === "urdf") near.add(file);
  }
  return definitionsOf(
    name,
    used.filter(({ file }) => near.has(file)),
  );
}

export function namesOfView({ file, kind, text, tree, sources, names }: View): NamedDocument {
  const source = sources.read(file);
  const known = source.state === "text" && source.text === text ? names(file) : undefined;
  return known ?? namedDocument(file, kind, text, tree);
}

/** Definitions of a name among documents. A turntable is an axis too where a move gives its value. */
export function definitionsOf(name: Pick<WrittenName, "kind" | "name">, documents: readonly NamedDocument[]): Place[] {
  return documents.flatMap(({ file, names }) =>
    names
      .filter((each) => each.role === "definition" && each.name === name.name && isKind(each.kind, name.kind))
      .map(({ span }) => ({ file, span })),
  );
}

/** All uses of what is named or defined at `offset`, in the document and in `others`. */
export function referencesAt(
  view: View,
  offset: number,
  others: readonly NamedDocument[],
  options: { readonly withDefinition: boolean },
): readonly Place[] {
  const document = namesOfView(view);
  const named = document.names.find(({ span }) => holds(span, offset));
  const file = named ? undefined : document.references.find(({ span }) => holds(span, offset))?.file;
  const all = [document, ...others.filter((other) => other.file !== view.file)];
  if (file !== undefined) return referencesTo(file, all);
  if (!named) return [];
  const definitions = definitionsFor(document, named, view.names);
  const uses = all.flatMap((other) => usesIn(other, named, definitions, view.names));
  return options.withDefinition ? [...definitions, ...uses] : uses;
}

/** Where a document uses what is defined at `definitions`; without any, where it uses the same undefined name. */
function usesIn(
  document: NamedDocument,
  named: WrittenName,
  definitions: readonly Place[],
  read: ReadNames,
): readonly Place[] {
  const alike = document.names.filter(
    (each) => each.role === "use" && each.name === named.name && isSame(each.kind, named.kind),
  );
  const means = (each: WrittenName): boolean => {
    const own = definitionsFor(document, each, read);
    return definitions.length === 0
      ? own.length === 0
      : own.some((one) => definitions.some((place) => isSamePlace(one, place)));
  };
  return alike.filter(means).map(({ span }) => ({ file: document.file, span }));
}

const isSamePlace = (one: Place, other: Place): boolean =>
  one.file === other.file && one.span.start === other.span.start;

/** Where documents name a file. */
function referencesTo(file: FileId, documents: readonly NamedDocument[]): Place[] {
  return documents.flatMap((document) =>
    document.references.filter((each) => each.file === file).map(({ span }) => ({ file: document.file, span })),
  );
}

const isKind = (defined: NameKind, used: NameKind): boolean =>
  defined === used || (defined === "turntable" && used === "axis");

const isSame = (one: NameKind, other: NameKind): boolean => isKind(one, other) || isKind(other, one);

const holds = ({ start, end }: Span, offset: number): boolean => start <= offset && offset <= end;
