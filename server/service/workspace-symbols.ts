import { baseName } from "../../core/base/path.ts";
import type { FileId, Span } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { NamedDocument } from "./written-names.ts";

/** A thing of the workspace that can be gone to by its name. */
export interface WorkspaceSymbol {
  /** `move: Lid to spout`, `axis: pan`. */
  readonly name: string;
  readonly kind: "document" | "name";
  readonly file: FileId;
  readonly span: Span;
  /** The document's own name, for what stands in it. */
  readonly container: string;
}

/** Most that are listed: people type on instead of reading more. */
export const WORKSPACE_SYMBOLS_CAP = 1000;

/** Documents by their titles and what they define, whose names hold the letters of `query` in their order. */
export function workspaceSymbols(documents: readonly NamedDocument[], query: string): readonly WorkspaceSymbol[] {
  const wanted = [...query.toLowerCase().replace(/\s+/g, "")];
  const fits = ({ name }: WorkspaceSymbol): boolean => {
    let at = 0;
    for (const letter of name.toLowerCase()) if (letter === wanted[at]) at += 1;
    return at === wanted.length;
  };
  return documents.flatMap(symbolsIn).filter(fits).slice(0, WORKSPACE_SYMBOLS_CAP);
}

function symbolsIn({ file, names, title }: NamedDocument): WorkspaceSymbol[] {
  const kind = documentKind(file)?.kind;
  if (!kind) return [];
  const container = baseName(file);
  const span = title?.span ?? { start: 0, end: 0 };
  const own: WorkspaceSymbol = {
    name: `${kind}: ${title?.text ?? container}`,
    kind: "document",
    file,
    span,
    container,
  };
  const defined = names.filter(({ role }) => role === "definition");
  return [
    own,
    ...defined.map((each): WorkspaceSymbol => ({
      name: `${each.kind}: ${each.name}`,
      kind: "name",
      file,
      span: each.span,
      container,
    })),
  ];
}
