import type { FileId } from "../base/span.ts";
import { parseAgain } from "../syntax/parse-again.ts";
import { parseTree } from "../syntax/parse.ts";
import type { Tree } from "../syntax/tree.ts";
import { documentKind } from "./document-kind.ts";
import type { DocumentMemo } from "./resolution.ts";

/** The tree of a text of this file, be it only tried out: the document's own where it is kept, or made from it. Keeps nothing. */
export function treeOf(memo: DocumentMemo, file: FileId, text: string): Tree {
  const kept = memo.get(file);
  const format = documentKind(file)?.format ?? "yaml";
  if (!kept || !("tree" in kept)) return parseTree(text, format);
  if (kept.text === text) return kept.tree;
  return parseAgain(kept.sound ?? kept, text, format)?.tree ?? parseTree(text, format);
}
