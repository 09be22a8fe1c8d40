import type { FileId } from "../base/span.ts";

export const DOCUMENT_KINDS = ["rig", "camera", "set", "move", "shoot"] as const;
export type DocumentKind = (typeof DOCUMENT_KINDS)[number];
export type TextFormat = "yaml" | "json";

const PATTERN = /\.(rig|camera|set|move|shoot)\.(yaml|yml|json)$/i;

/** Kind and format by file name, `undefined` for a file that is not ours. */
export function documentKind(file: FileId): { readonly kind: DocumentKind; readonly format: TextFormat } | undefined {
  const match = PATTERN.exec(file);
  if (!match) return undefined;
  return {
    kind: match[1].toLowerCase() as DocumentKind,
    format: match[2].toLowerCase() === "json" ? "json" : "yaml",
  };
}
