import type { FileId } from "../base/span.ts";

export const DOCUMENT_KINDS = ["rig", "camera", "set", "move", "shoot", "config"] as const;
export type DocumentKind = (typeof DOCUMENT_KINDS)[number];
export type TextFormat = "yaml" | "json";

/** `NAME.move.yaml` and its like, and the one name of a config. */
const PATTERN = /(?:\.(rig|camera|set|move|shoot)|(?:^|[\\/])movewright\.(config))\.(yaml|yml|json)$/i;

/** Kind and format by file name, `undefined` for a file that is not ours. */
export function documentKind(file: FileId): { readonly kind: DocumentKind; readonly format: TextFormat } | undefined {
  const match = PATTERN.exec(file);
  if (!match) return undefined;
  return {
    kind: (match[1] ?? match[2]).toLowerCase() as DocumentKind,
    format: match[3].toLowerCase() === "json" ? "json" : "yaml",
  };
}
