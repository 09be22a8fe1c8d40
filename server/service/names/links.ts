import type { FileId, Span } from "../../../core/base/span.ts";
import type { SourceState } from "../../../core/model/sources.ts";
import { namesOfView } from "./definition.ts";
import type { View } from "../view.ts";

export interface Link {
  readonly span: Span;
  readonly file: FileId;
}

/** Every file that the document names and that is there. A missing one is a finding, not a link. */
export function linksOf(view: View): readonly Link[] {
  return namesOfView(view)
    .references.filter(({ file }) => isThere(view.sources.read(file).state))
    .map(({ file, span }) => ({ file, span }));
}

const isThere = (state: SourceState["state"]): boolean => state === "text" || state === "bytes";
