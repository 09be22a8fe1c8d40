import type { FileId, Span } from "../base/span.ts";
import type { AnalysisMemo } from "../checks/memo.ts";
import type { Sources } from "../model/sources.ts";
import { treeOf } from "../model/tree-of.ts";
import { indexLines, type LineIndex } from "../syntax/lines.ts";
import type { Tree } from "../syntax/tree.ts";
import type { TextRange } from "./checked-document.ts";

/** What is asked of the texts that documents were analysed from, by file. */
export interface TextBook {
  range(file: FileId, span: Span): TextRange;
  /** Absent for a file that is no text. */
  tree(file: FileId): Tree | undefined;
}

/** Texts whose lines are kept; a rig that many moves name is counted once. */
const KEPT = 64;

/** Of the texts of `sources`, their trees as the memo has read them; places in a file that is no text are all its start. */
export function textBook(sources: Sources, { documents }: AnalysisMemo): TextBook {
  const known = new Map<FileId, { readonly text: string; readonly index: LineIndex }>();
  const linesOf = (file: FileId): LineIndex => {
    const source = sources.read(file);
    const text = source.state === "text" ? source.text : "";
    const kept = known.get(file);
    if (kept?.text === text) return kept.index;
    const index = indexLines(text);
    known.set(file, { text, index });
    const [oldest] = known.keys();
    if (known.size > KEPT) known.delete(oldest);
    return index;
  };
  return {
    range(file, { start, end }) {
      const lines = linesOf(file);
      return { start: lines.position(start), end: lines.position(end) };
    },
    tree(file) {
      const source = sources.read(file);
      return source.state === "text" ? treeOf(documents, file, source.text) : undefined;
    },
  };
}
