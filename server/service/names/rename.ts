import type { FileId, Place, Span } from "../../../core/base/span.ts";
import { baseName } from "../../../core/base/path.ts";
import { assetKind } from "../../../core/model/asset-kind.ts";
import { nameFault } from "../../../core/schema/field-types.ts";
import type { NameKind } from "../../../core/schema/facts.ts";
import { definitionsFor, definitionsOf, namesOfView, referencesAt } from "./definition.ts";
import type { View } from "../view.ts";
import { withUsed, type NamedDocument, type WrittenName } from "./written-names.ts";

/** Something that cannot be renamed, and why: a sentence for the editor to show. */
export interface Refused {
  readonly refused: string;
}

/** The name at `offset` as it would be edited, or why it can't be. `undefined` where no name stands. */
export function renamable(
  view: View,
  offset: number,
): { readonly span: Span; readonly name: string } | Refused | undefined {
  const found = nameAt(view, offset);
  if (!found) return undefined;
  const refused = refusalOf(view, found);
  return refused === undefined ? { span: found.span, name: found.name } : { refused };
}

/**
 * Every place in the documents where the name at `offset` is defined or used. Texts stay as they are around them. Refused
 * are names that documents could not be read with, and those that something else has already.
 */
export function renamePlaces(
  view: View,
  offset: number,
  to: string,
  others: readonly NamedDocument[],
): { readonly places: readonly Place[]; readonly name: string } | Refused | undefined {
  const found = nameAt(view, offset);
  if (!found) return undefined;
  const name = to.trim();
  const refused = refusalOf(view, found) ?? faultOf(name);
  if (refused !== undefined) return { refused };
  const places = referencesAt(view, offset, others, { withDefinition: true });
  const taken = name === found.name ? undefined : takenBy(view, found, name, places, others);
  return taken === undefined ? { places, name } : { refused: taken };
}

const nameAt = (view: View, offset: number): WrittenName | undefined =>
  namesOfView(view).names.find(({ span }) => span.start <= offset && offset <= span.end);

function refusalOf(view: View, found: WrittenName): string | undefined {
  const definitions = definitionsFor(namesOfView(view), found, view.names);
  if (definitions.length === 0) return `\`${found.name}\` is defined in no document that this one uses.`;
  const outside = definitions.find(({ file }) => assetKind(file) !== undefined);
  return outside && `\`${found.name}\` comes from ${baseName(outside.file)}: rename it there.`;
}

/** Words that mean something where a name may stand, and what YAML reads as something else than text. */
const RESERVED: readonly string[] = [
  ...["none", "base", "camera", "axes", "line", "level", "infinity", "duration"],
  ...["true", "false", "null", "yes", "no", "on", "off"],
];

const PLAIN = /^[\p{L}_][\p{L}\p{N}_ -]*$/u;

function faultOf(name: string): string | undefined {
  const fault = nameFault(name);
  if (fault !== undefined) return `\`${name}\`: ${fault}.`;
  if (RESERVED.includes(name.toLowerCase())) return `\`${name}\` has a meaning of its own: take another name.`;
  // So that it reads as a name wherever it stands, in quotes or not.
  return PLAIN.test(name)
    ? undefined
    : `\`${name}\`: begin with a letter, and go on with letters, digits, spaces, - and _.`;
}

/** A sentence where the new name would meet another one of its kind. */
function takenBy(
  view: View,
  found: WrittenName,
  name: string,
  places: readonly Place[],
  others: readonly NamedDocument[],
): string | undefined {
  const touched = new Set<FileId>(places.map(({ file }) => file));
  const documents = [namesOfView(view), ...others].filter(({ file }) => touched.has(file));
  for (const document of documents) {
    const [clash] = kindsTogether(found.kind).flatMap((kind) =>
      definitionsOf({ kind, name }, withUsed(document, view.names)),
    );
    if (clash) return `\`${name}\` is in ${baseName(clash.file)} already: take another name, or rename that one first.`;
  }
  return undefined;
}

/** Axes and turntables share the names that a key gives values to. */
const kindsTogether = (kind: NameKind): readonly NameKind[] =>
  kind === "axis" || kind === "turntable" ? ["axis", "turntable"] : [kind];
