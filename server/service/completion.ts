import type { FieldShape } from "../../core/schema/shape.ts";
import { probeCursor } from "./cursor-probe.ts";
import { momentAt } from "./completion/moment.ts";
import type { Asked, AskedPlace, Proposal, Surroundings } from "./completion/proposal.ts";
import { snippetProposals } from "./completion/snippet-proposals.ts";
import { usedNames, valueProposals } from "./completion/value-proposals.ts";
import { asName, asValue, type Replacement } from "./completion/write-proposal.ts";
import { asSnippet } from "./completion/write-snippet.ts";
import { fieldDoc, typeWords } from "./field-doc.ts";
import { itemPlaces, shapesAt } from "./shape-walk.ts";
import type { View } from "./view.ts";

export type { Surroundings };

/** One thing that may be written at the cursor. */
export interface Completion extends Replacement {
  readonly label: string;
  readonly kind: Proposal["kind"];
  readonly detail?: string;
  /** Markdown. */
  readonly doc?: string;
  /** Lists are shown in the order of this. */
  readonly order: string;
}

/** All that may be written at `offset`, the likeliest first. Works at broken and unfinished text. */
export function completionsAt(view: View, offset: number, around: Surroundings): readonly Completion[] {
  const cursor = probeCursor(view.text, view.tree.format, offset, view.parse);
  if (!cursor) return [];
  const asked: Asked = { view, cursor, around, moment: momentAt(view, cursor.path, offset) };
  const places = shapesAt(view.kind, cursor.path).map((place): AskedPlace => ({ ...asked, place }));
  const names = cursor.role === "name" ? places.flatMap(nameProposals) : [];
  // An only name in a map that begins on a new line may as well be the value of the field above.
  const isValue = cursor.role === "value" || (cursor.siblings.length === 0 && !cursor.hasColon && !cursor.needsDash);
  const values = isValue ? places.flatMap(valueProposals) : [];
  const written = [
    ...names.map((item) => completion(item, asName(asked, item))),
    ...values.map((item) => completion(item, asValue(asked, item))),
    ...places.flatMap((place) =>
      snippetProposals(place).flatMap((item) => (item.shown ? completion(item, asSnippet(place, item.shown)) : [])),
    ),
  ];
  const known = new Set<string>();
  return written.filter(({ label }) => !known.has(label) && known.add(label)).sort(byOrder);
}

function byOrder(one: Completion, other: Completion): number {
  return one.order < other.order ? -1 : one.order > other.order ? 1 : 0;
}

function nameProposals(asked: AskedPlace): readonly Proposal[] {
  const { cursor, place } = asked;
  const { shape } = place;
  // A line of its own where a list is to stand: what is written begins the first item.
  const isListLine = shape.kind === "list" && !cursor.flow;
  const all = isListLine
    ? itemPlaces([place], 0)
        .flatMap((item) => namesIn({ ...asked, place: item }))
        .map((item) => ({ ...item, dash: true }))
    : namesIn(asked);
  return all.filter(({ label }) => !cursor.siblings.includes(label));
}

function namesIn(asked: AskedPlace): readonly Proposal[] {
  const { shape } = asked.place;
  if (shape.kind === "map") return [...shape.fields.values()].map(fieldProposal);
  if (shape.kind !== "record") return [];
  const { item } = shape;
  if (shape.known) return shape.known.map((label) => ({ label, kind: "word", shape: item }));
  const names = shape.names?.role === "use" ? usedNames(asked, shape.names.kind) : [];
  return names.map((name) => ({ ...name, shape: item }));
}

function fieldProposal(field: FieldShape): Proposal {
  return {
    label: field.name,
    kind: "field",
    detail: field.required ? `${typeWords(field.shape)}, required` : typeWords(field.shape),
    doc: fieldDoc(field),
    shape: field.shape,
    rank: field.required ? 0 : 1,
  };
}

function completion({ label, kind, detail, doc, rank = 0 }: Proposal, written: Replacement): Completion {
  return { label, kind, detail, doc, ...written, order: `${rank}${label}` };
}
