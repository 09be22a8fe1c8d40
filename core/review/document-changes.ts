import type { FileId } from "../base/span.ts";
import type { DocumentKind } from "../model/document-kind.ts";
import type { NameKind } from "../schema/facts.ts";
import { SHAPES } from "../schema/documents.ts";
import { fieldChanges } from "./fields/field-changes.ts";
import type { SaidSide } from "./fields/said-side.ts";
import { renamedItems, type RenamedItem } from "./fields/whole-items.ts";
import type { SameNames } from "./fields/said-same.ts";
import { saidFields, type Renaming } from "./fields/said-fields.ts";
import { readingOf } from "./reading.ts";
import type { FieldChange } from "./review.ts";
import type { ReviewSide } from "./review-side.ts";

export interface DocumentChanges {
  readonly fields: readonly FieldChange[];
  /** What is called otherwise. */
  readonly names: SameNames;
}

/** What is called by the names of which list or map. */
const NAMED: Readonly<Record<string, NameKind>> = {
  chain: "axis",
  targets: "target",
  turntables: "turntable",
  marks: "mark",
  lenses: "lens",
  bodies: "body",
  obstacles: "body",
};

/** Most rounds in which names are found that others lead to: an axis that follows one which is called otherwise too. */
const ROUNDS = 8;

/** What is another in a document that is no move: what is called otherwise first, each once and not wherever it is named. */
export function documentChanges(
  kind: DocumentKind,
  before: ReviewSide,
  after: ReviewSide,
  files: ReadonlyMap<FileId, FileId>,
): DocumentChanges {
  const said = (side: ReviewSide, renaming: Renaming): SaidSide => ({
    file: side.analysis.file,
    text: side.text,
    said: saidFields(readingOf(side), SHAPES[kind], side.tree?.root, renaming),
  });
  const is = said(after, (_, name) => name);
  const renamed: RenamedItem[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const known = namesOf(renamed, files);
    const more = renamedItems(said(before, known.name), is, known).filter(({ parent }) => kindOf(parent) !== undefined);
    if (more.length === 0) break;
    renamed.push(...more);
  }
  const names = namesOf(renamed, files);
  const fields = fieldChanges(said(before, names.name), is, names);
  return { names, fields: [...renamed.map(({ change }) => change), ...fields] };
}

const kindOf = (parent: readonly string[]): NameKind | undefined =>
  parent.length === 1 && Object.hasOwn(NAMED, parent[0]) ? NAMED[parent[0]] : undefined;

function namesOf(renamed: readonly RenamedItem[], files: ReadonlyMap<FileId, FileId>): SameNames {
  const known = new Map(renamed.map(({ parent, was, is }) => [`${kindOf(parent)} ${was}`, is]));
  return {
    name: (kind, name) => known.get(`${kind} ${name}`) ?? name,
    file: (file) => files.get(file) ?? file,
    isPlain: known.size + files.size === 0,
  };
}
