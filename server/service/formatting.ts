import type { Span } from "../../core/base/span.ts";
import { layOut, type LaidText, type Layout, type LayoutEdits, type LayoutOptions } from "../../core/layout/lay-out.ts";
import { layOutLines, layOutTyped, type Typed } from "../../core/layout/lay-out-part.ts";
import type { View } from "./view.ts";

/** How an editor indents, as it says it. */
export interface EditorIndent {
  readonly tabSize: number;
  readonly insertSpaces: boolean;
}

/** Widest indentation step that is taken over from an editor. */
const WIDEST_STEP = 16;

/** The edits that lay a document out, or why it is left as it is. */
export function formatDocument(view: View, options: LayoutOptions): Layout {
  return layOut(laidOf(view), options);
}

/** The edits that lay out the lines of a span; none while the document has faults. */
export function formatLines(view: View, options: LayoutOptions, span: Span): LayoutEdits {
  return layOutLines(laidOf(view), options, span);
}

/** The edits that fit while somebody types; none while the document has faults. */
export function formatTyped(view: View, options: LayoutOptions, typed: Typed): LayoutEdits {
  return layOutTyped(laidOf(view), options, typed);
}

/** The layout as an editor and its user wish it. YAML is indented by two blanks whatever the editor says. */
export function layoutOptions({ tabSize, insertSpaces }: EditorIndent, alignKeys: boolean): LayoutOptions {
  const isSize = Number.isInteger(tabSize) && 1 <= tabSize && tabSize <= WIDEST_STEP;
  return { alignKeys, jsonStep: insertSpaces ? " ".repeat(isSize ? tabSize : 2) : "\t" };
}

function laidOf({ text, tree, parse }: View): LaidText {
  return { text, format: tree.format, tree, parse };
}
