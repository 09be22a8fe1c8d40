import { RATES } from "../../core/base/rate.ts";
import {
  partsOfQuantity,
  QUANTITIES,
  QUANTITY_NAMES,
  SUBJECTS,
  type QuantityName,
} from "../../core/base/quantities.ts";
import { MOTION_CODES } from "../../core/base/finding-code.ts";
import { relativeReference } from "../../core/base/path.ts";
import type { FileId, Span } from "../../core/base/span.ts";
import { CATALOGUE } from "../../core/checks/catalogue.ts";
import { assetKind } from "../../core/model/asset-kind.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { NameKind, ReferenceKind, ScalarFacts } from "../../core/schema/facts.ts";
import type { FieldShape } from "../../core/schema/shape.ts";
import { probeCursor, type Cursor } from "./cursor-probe.ts";
import { fieldDoc, typeWords } from "./field-doc.ts";
import { shapesAt, type ShapePlace } from "./shape-walk.ts";
import type { View } from "./view.ts";

/** One thing that may be written at the cursor. */
export interface Completion {
  readonly label: string;
  readonly kind: "field" | "name" | "file" | "word" | "value";
  /** What replaces `span`. */
  readonly text: string;
  readonly span: Span;
  readonly detail?: string;
  /** Markdown. */
  readonly doc?: string;
  /** Lists are shown in the order of this. */
  readonly order: string;
}

/** What completion knows beside the document itself. */
export interface Surroundings {
  /** Names that are defined here or in the documents that this one uses. */
  names(kind: NameKind): readonly { readonly name: string; readonly from: string }[];
  /** Documents of the workspace, and what they name beside each other. */
  readonly files: readonly FileId[];
}

/** All that may be written at `offset`. Works at broken and unfinished text. */
export function completionsAt(view: View, offset: number, around: Surroundings): readonly Completion[] {
  const cursor = probeCursor(view.text, view.tree.format, offset, view.parse);
  if (!cursor) return [];
  const places = shapesAt(view.kind, cursor.path);
  const found = cursor.role === "name" ? nameProposals(places, cursor, around) : [];
  // An only name in a map that begins on a new line may as well be the value of the field above.
  const isValue = cursor.role === "value" || (cursor.siblings.length === 0 && !cursor.hasColon);
  const values = isValue ? places.flatMap((place) => valueProposals(view, place, cursor, around)) : [];
  const written = [
    ...found.map((item) => asName(view, cursor, item)),
    ...values.map((item) => asValue(view, cursor, item)),
  ];
  return written.filter((item, idx) => written.findIndex(({ label }) => label === item.label) === idx);
}

interface Proposal {
  readonly label: string;
  readonly kind: Completion["kind"];
  readonly detail?: string;
  readonly doc?: string;
  readonly rank?: number;
  /** Text without quotes in JSON: a number, true, false. */
  readonly bare?: boolean;
}

function nameProposals(places: readonly ShapePlace[], { siblings }: Cursor, around: Surroundings): readonly Proposal[] {
  const all = places.flatMap(({ shape }): readonly Proposal[] => {
    if (shape.kind === "map") return [...shape.fields.values()].map(fieldProposal);
    if (shape.kind !== "record") return [];
    if (shape.known) return shape.known.map((label) => ({ label, kind: "word" }));
    return shape.names?.role === "use" ? namesOf(shape.names.kind, around) : [];
  });
  return all.filter(({ label }) => !siblings.includes(label));
}

function fieldProposal(field: FieldShape): Proposal {
  return {
    label: field.name,
    kind: "field",
    detail: field.required ? `${typeWords(field.shape)}, required` : typeWords(field.shape),
    doc: fieldDoc(field),
    rank: field.required ? 0 : 1,
  };
}

function valueProposals(view: View, place: ShapePlace, cursor: Cursor, around: Surroundings): readonly Proposal[] {
  const { shape, field } = place;
  if (isAllowCode(cursor)) return MOTION_CODES.map((label) => ({ label, kind: "word", doc: CATALOGUE[label].doc }));
  return shape.kind === "scalar" ? scalarProposals(view, shape.facts, field, around) : [];
}

function isAllowCode({ path }: Cursor): boolean {
  return path[path.length - 1] === "code" && path[path.length - 3] === "allow";
}

function scalarProposals(
  view: View,
  facts: ScalarFacts,
  field: FieldShape | undefined,
  around: Surroundings,
): readonly Proposal[] {
  switch (facts.type) {
    case "word":
      return Object.entries(facts.words).map(([label, doc]) => ({ label, kind: "word", doc }));
    case "flag":
      return ["true", "false"].map((label) => ({ label, kind: "word", bare: true }));
    case "version":
      return [{ label: "1", kind: "value", bare: true }];
    case "rate":
      return Object.keys(RATES).map((label) => ({ label, kind: "value", bare: /^[\d.]+$/.test(label) }));
    case "name":
      return facts.role === "use" ? namesOf(facts.kind, around) : [];
    case "reference":
      return fileProposals(view, facts.to, around);
    case "move-key":
      return moveKeyProposals(view, around);
    case "measure":
      return measureProposals(around);
    default:
      return fallbackProposals(field);
  }
}

/** A default that is a value, not a sentence, shows how such a value is written. */
function fallbackProposals(field: FieldShape | undefined): readonly Proposal[] {
  const label = field?.fallback ?? "";
  if (!/^[-\d.]+( ?[^\s]+)?$/.test(label)) return [];
  return [{ label, kind: "value", detail: "default", bare: /^[-\d.]+$/.test(label) }];
}

function namesOf(kind: NameKind, around: Surroundings): readonly Proposal[] {
  const kinds: readonly NameKind[] = kind === "axis" ? ["axis", "turntable"] : [kind];
  return kinds.flatMap((each) =>
    around.names(each).map(({ name, from }): Proposal => ({ label: name, kind: "name", detail: `${each}, ${from}` })),
  );
}

function fileProposals(view: View, to: ReferenceKind, { files }: Surroundings): readonly Proposal[] {
  return files
    .filter((file) => file !== view.file && (documentKind(file)?.kind ?? assetKind(file)) === to)
    .map((file) => ({ label: relativeReference(view.file, file), kind: "file", detail: to }));
}

/** Keys of the moves of the workspace whose text is known, with their files. */
function moveKeyProposals(view: View, { files }: Surroundings): readonly Proposal[] {
  return files.flatMap((file) => {
    const names = documentKind(file)?.kind === "move" ? (view.names(file)?.names ?? []) : [];
    const keys = names.filter(({ kind, role }) => kind === "key" && role === "definition");
    return keys.map(({ name }): Proposal => ({
      label: `${relativeReference(view.file, file)}#${name}`,
      kind: "name",
      detail: "key",
    }));
  });
}

function measureProposals(around: Surroundings): readonly Proposal[] {
  const of = (quantity: QuantityName): readonly Proposal[] => {
    const [subject, word] = partsOfQuantity(quantity);
    const { doc } = QUANTITIES[quantity];
    const labels = subject ? namesOf(SUBJECTS[subject], around).map(({ label }) => `${label}.${word}`) : [word];
    return labels.map((label) => ({ label, kind: "value", detail: doc }));
  };
  return QUANTITY_NAMES.flatMap(of);
}

function asName(view: View, cursor: Cursor, item: Proposal): Completion {
  const colon = cursor.hasColon ? "" : ": ";
  if (view.tree.format !== "json") return completion(item, cursor, item.label + closingQuote(view, cursor) + colon);
  if (!cursor.inQuotes) return completion(item, cursor, `"${item.label}"${colon}`);
  if (cursor.hasColon) return completion(item, cursor, item.label + closingQuote(view, cursor));
  // The quote behind the word is replaced along, so that the colon can follow it.
  const end = cursor.word.end + (closingQuote(view, cursor) === "" ? 1 : 0);
  return completion(item, { ...cursor, word: { start: cursor.word.start, end } }, `${item.label}": `);
}

function asValue(view: View, cursor: Cursor, item: Proposal): Completion {
  const isQuoted = view.tree.format === "json" && !cursor.inQuotes && item.bare !== true;
  const text = isQuoted ? JSON.stringify(item.label) : item.label + closingQuote(view, cursor);
  return completion(item, cursor, (cursor.needsSpace ? " " : "") + text);
}

/** The quote that is missing behind the word, or nothing. */
function closingQuote({ text }: View, { word, inQuotes, opening }: Cursor): string {
  if (!inQuotes) return "";
  return text[word.end] === opening ? "" : opening;
}

function completion(item: Proposal, cursor: Cursor, text: string): Completion {
  const { label, kind, detail, doc, rank = 0 } = item;
  return { label, kind, detail, doc, text, span: cursor.word, order: `${rank}${label}` };
}
