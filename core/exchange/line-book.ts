import type { FileId, Span } from "../base/span.ts";
import type { Sources } from "../model/sources.ts";
import { indexLines, type LineIndex } from "../syntax/lines.ts";
import type { TextRange } from "./checked-document.ts";

/** Lines and columns of places, by file. */
export interface LineBook {
  range(file: FileId, span: Span): TextRange;
}

/** Texts whose lines are kept; a rig that many moves name is counted once. */
const KEPT = 64;

/** Places in the texts of `sources`; in a file that is no text all of them are its start. */
export function lineBook(sources: Sources): LineBook {
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
  };
}
