import type { FileId, Span } from "../../base/span.ts";
import type { FieldChange } from "../review.ts";
import type { SaidFields } from "./said-fields.ts";
import { shortened } from "./said-words.ts";

/** One side of a comparison of what maps say. */
export interface SaidSide {
  readonly file: FileId;
  readonly text: string;
  readonly said: SaidFields;
}

interface Spanned {
  readonly span: Span;
}

/** Where both sides state a thing, or the one that does. */
export function placesOf(
  before: Pick<SaidSide, "file">,
  after: Pick<SaidSide, "file">,
  was: Spanned | undefined,
  is: Spanned | undefined,
): FieldChange["place"] {
  const placed = (file: FileId, { span: { start, end } }: Spanned) => ({ file, span: { start, end } });
  return { ...(was ? { before: placed(before.file, was) } : {}), ...(is ? { after: placed(after.file, is) } : {}) };
}

/** What stands in the text, on one line. */
export const textAt = ({ text }: SaidSide, { start, end }: Span): string => shortened(text.slice(start, end));
