import { baseName } from "../../../core/base/path.ts";
import type { FileId, Span } from "../../../core/base/span.ts";
import { documentKind } from "../../../core/model/document-kind.ts";
import type { NameKind } from "../../../core/schema/facts.ts";
import type { NamedDocument } from "./written-names.ts";

/** A thing of the workspace that can be gone to by its name. */
export interface WorkspaceSymbol {
  /** `move: Lid to spout`, `axis: pan`. */
  readonly name: string;
  readonly kind: "document" | NameKind;
  readonly file: FileId;
  readonly span: Span;
  /** The document's own name, for what stands in it. */
  readonly container: string;
}

/** Most that are listed: people type on instead of reading more. */
export const WORKSPACE_SYMBOLS_CAP = 1000;

/**
 * Documents by their titles and what they define, whose names hold the letters of `query` in their order; a document also by
 * its file's name. Those that `query` says best come first: the name itself, its beginning, beginnings of its words, a part
 * of it, then letters that are apart.
 */
export function workspaceSymbols(documents: readonly NamedDocument[], query: string): readonly WorkspaceSymbol[] {
  const asked = plainWords(query);
  const ranked = documents.flatMap(symbolsIn).flatMap((symbol) => {
    const rank = rankOf(symbol, asked);
    return rank === undefined ? [] : [{ symbol, rank }];
  });
  ranked.sort(
    (one, other) =>
      one.rank - other.rank || Number(one.symbol.kind !== "document") - Number(other.symbol.kind !== "document"),
  );
  return ranked.slice(0, WORKSPACE_SYMBOLS_CAP).map(({ symbol }) => symbol);
}

/** How well a name is said; lower is better, `undefined` where it is not meant. */
function rankOf({ name, kind, container }: WorkspaceSymbol, asked: string): number | undefined {
  if (asked === "") return 0;
  const whole = plainWords(name);
  const label = plainWords(name.slice(name.indexOf(":") + 1));
  if (label === asked || whole === asked) return 0;
  if (label.startsWith(asked) || whole.startsWith(asked)) return 1;
  if (beginsWords(whole, asked)) return inOrder(whole, asked) ? 2 : 3;
  if (whole.includes(asked)) return 4;
  if (kind === "document" && beginsWords(plainWords(container), asked)) return 5;
  // Letters of the kind alone would find everything of that kind.
  return holdsLetters(label, asked) || (asked.startsWith(whole.split(" ")[0]) && holdsLetters(whole, asked))
    ? 6
    : undefined;
}

/** Small letters, words apart by one blank: `move: Lid to spout` is `move lid to spout`. */
function plainWords(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

/** Each asked word begins a word, in any order. */
function beginsWords(text: string, asked: string): boolean {
  const words = text.split(" ");
  return asked.split(" ").every((each) => words.some((word) => word.startsWith(each)));
}

function inOrder(text: string, asked: string): boolean {
  let at = 0;
  return asked.split(" ").every((each) => {
    const found = ` ${text}`.indexOf(` ${each}`, at);
    at = found + 1;
    return found >= 0;
  });
}

function holdsLetters(text: string, asked: string): boolean {
  const wanted = [...asked.replace(/ /g, "")];
  let at = 0;
  for (const letter of text) if (letter === wanted[at]) at += 1;
  return at === wanted.length;
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
      kind: each.kind,
      file,
      span: each.span,
      container,
    })),
  ];
}
