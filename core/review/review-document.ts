import type { FileId } from "../base/span.ts";
import type { SourceState } from "../model/sources.ts";
import { documentChanges } from "./document-changes.ts";
import { sameNames } from "./match-names.ts";
import type { DocumentReview, FieldChange } from "./review.ts";
import { reviewFindings } from "./review-findings.ts";
import { stateOf } from "./review-move.ts";
import type { ReviewSide } from "./review-side.ts";
import { isSameSource } from "./same-source.ts";

/** What is known of a change to a document beyond its two sides. */
export interface DocumentAround {
  readonly renames?: ReadonlyMap<FileId, FileId>;
  /** Moves that use it. */
  readonly moves?: readonly FileId[];
}

/** What changed in a document that is no move: a rig, a camera, a set, a shoot or a config. */
export function reviewDocument(
  before: ReviewSide | undefined,
  after: ReviewSide | undefined,
  { renames = new Map(), moves = [] }: DocumentAround = {},
): DocumentReview {
  const kind = (after ?? before)?.analysis.kind;
  const nothing = { fields: [], names: sameNames(undefined, undefined, renames) };
  const { fields, names } = before && after && kind ? documentChanges(kind, before, after, renames) : nothing;
  const isWhole = [before, after].every((side) => side?.tree?.problems.length === 0);
  return {
    ...filesOf(before?.analysis.file, after?.analysis.file),
    ...(kind ? { kind } : {}),
    isTextSame: before !== undefined && before.text === after?.text,
    isMeaningSame: before?.text === after?.text || (isWhole && fields.every(isForPeople)),
    fields,
    findings: reviewFindings(before, after, names),
    moves,
  };
}

/** What changed in a mesh, a picture or a URDF file, which is told as a whole. */
export function reviewAsset(
  files: { readonly before: FileId; readonly after: FileId },
  before: SourceState,
  after: SourceState,
  { moves = [] }: DocumentAround = {},
): DocumentReview {
  const [was, is] = [before, after].map(({ state }) => state !== "missing");
  return {
    ...filesOf(was ? files.before : undefined, is ? files.after : undefined),
    isTextSame: isSameSource(before, after),
    isMeaningSame: isSameSource(before, after),
    fields: [],
    findings: [],
    moves,
  };
}

function filesOf(
  before: FileId | undefined,
  after: FileId | undefined,
): Pick<DocumentReview, "file" | "renamedFrom" | "state"> {
  const file = after ?? before ?? "";
  const isRenamed = before !== undefined && after !== undefined && before !== after;
  return { file, ...(isRenamed ? { renamedFrom: before } : {}), state: stateOf(before, after) };
}

/** Nothing reads a note. */
const isForPeople = ({ field }: FieldChange): boolean => /(?:^|\.)note$/.test(field);
