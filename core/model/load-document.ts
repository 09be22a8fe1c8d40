import { baseName } from "../base/path.ts";
import type { Problem } from "../base/problem.ts";
import type { FileId, Span } from "../base/span.ts";
import { SHAPES, type SchemaOf } from "../schema/documents.ts";
import { indexLines } from "../syntax/lines.ts";
import { isSound, parseAgain } from "../syntax/parse-again.ts";
import { parseTree } from "../syntax/parse.ts";
import { entryOf, valueOf, type Tree } from "../syntax/tree.ts";
import type { Declared } from "./declared.ts";
import { DOCUMENT_KINDS, type DocumentKind, type TextFormat } from "./document-kind.ts";
import type { Kept } from "./kept-keys.ts";
import { readItems, type ItemRead, type ItemsRead } from "./read-items.ts";
import { readMap, readValue } from "./read.ts";
import { MAX_PROBLEMS, report, type Reporter } from "./report.ts";

/** A document as far as its own text tells: what other files say of its names is not looked at. */
export interface Document<K extends DocumentKind = DocumentKind> {
  readonly file: FileId;
  readonly kind: K;
  readonly format: TextFormat;
  readonly text: string;
  readonly tree: Tree;
  /** Items of the list that grows long, each read apart; absent where there is none. */
  readonly items?: readonly ItemRead[];
  /** The last version of this document that was well formed, where this one is not. */
  readonly sound?: Document<K>;
  /** What was made of this document's keys, handed on from version to version. */
  readonly kept: Kept;
  /** How much was read anew: all, or only what had changed. */
  readonly work: ReadingWork;
  /** Absent for an empty document, one of the wrong kind, or one that could not be read at all. */
  readonly declared?: Declared<SchemaOf<K>>;
  readonly problems: readonly Problem[];
}

/** What a reading cost: items and fields that were parsed, `all` for the whole text, and items of the long list that were read. */
export interface ReadingWork {
  readonly parsed: number | "all";
  readonly read: number;
}

/** The list of each kind of document that grows long: an edit in one of its items leaves what was read of the others. */
const LONG_LISTS: Readonly<Partial<Record<DocumentKind, string>>> = { move: "keys" };

/**
 * Reads a text into declarations. Never throws; faults of the text are in `problems`.
 *
 * @param earlier The same document before its text changed: what it says in what is the same is not read again. Only the
 * time depends on it.
 */
export function readDocument<K extends DocumentKind>(
  file: FileId,
  kind: K,
  format: TextFormat,
  text: string,
  earlier?: Document<K>,
): Document<K> {
  const sound = earlier?.sound ?? earlier;
  if (sound?.text === text) return sound;
  const again = sound && parseAgain(sound, text, format);
  const tree = again?.tree ?? parseTree(text, format);
  const to: Reporter = { file, text, format, problems: [] };
  for (const { code, span, message, cure } of tree.problems) {
    report(to, code, span, message, cure ? { cures: [{ title: cure.title, file, edits: cure.edits }] } : {});
  }
  const own = { file, text, format, problems: [] as Problem[] };
  let long: ItemsRead | undefined;
  const name = LONG_LISTS[kind];
  const earlierItem = (index: number): ItemRead | undefined => {
    const at = again && name !== undefined ? again.earlier(name, index) : undefined;
    return at === undefined ? undefined : sound?.items?.[at];
  };
  const declared = readRoot(own, kind, tree, (to, shape, node, slot) => {
    if (slot.label !== name || shape.kind !== "list" || node?.kind !== "list") return readValue(to, shape, node, slot);
    long = readItems(to, shape, node, slot, earlierItem);
    return long.stated;
  });
  const problems = [...to.problems, ...own.problems.filter(awayFromFaults(text, tree))];
  const isBase = isSound(tree) && own.problems.length <= MAX_PROBLEMS;
  return {
    file,
    kind,
    format,
    text,
    tree,
    ...(declared ? { declared: declared as Declared<SchemaOf<K>> } : {}),
    ...(long && isBase ? { items: long.items } : {}),
    ...(isBase || !sound ? {} : { sound }),
    problems,
    kept: earlier?.kept ?? {},
    work: { parsed: again?.parsed ?? "all", read: long?.fresh ?? 0 },
  };
}

function readRoot(to: Reporter, kind: DocumentKind, tree: Tree, readField: typeof readValue): unknown {
  const root = valueOf(tree.root);
  const unread = tree.problems.some(({ code }) => code === "too-large" || code === "too-deep");
  if (!root || (root.kind === "scalar" && root.value === null)) {
    if (tree.problems.length === 0) {
      const message = `The document is empty: a ${kind} begins with \`${kind}: 1\`.`;
      report(to, "empty-document", { start: 0, end: 0 }, message);
    }
    return undefined;
  }
  if (unread) return undefined;
  if (root.kind !== "map") {
    report(
      to,
      "wrong-type",
      firstLine(to.text, root.start),
      `A ${kind} is a map of fields that begins with \`${kind}: 1\`.`,
    );
    return undefined;
  }
  const other = otherKind(kind, tree);
  if (other) {
    const entry = entryOf(root, other);
    const message = `This document says that it is a ${other} (\`${other}: 1\`), but by its name, \`${baseName(to.file)}\`, it is a ${kind}.`;
    report(to, "wrong-kind", entry?.nameSpan ?? root, message);
    return undefined;
  }
  const span = root.entries[0]?.nameSpan ?? { start: root.start, end: root.start + 1 };
  return readMap(to, SHAPES[kind], root, { label: kind, span }, readField);
}

/** Another kind that the first field claims, while the own kind is not claimed. */
function otherKind(kind: DocumentKind, tree: Tree): DocumentKind | undefined {
  const claims = (name: DocumentKind): boolean => {
    const value = valueOf(entryOf(tree.root, name)?.value);
    return value?.kind === "scalar" && typeof value.value === "number";
  };
  return claims(kind) ? undefined : DOCUMENT_KINDS.find((name) => name !== kind && claims(name));
}

function firstLine(text: string, start: number): Span {
  const end = text.indexOf("\n", start);
  return { start, end: Math.max(start + 1, end < 0 ? text.length : end) };
}

/** On a line whose text is broken, what its fields seem to say is not reported too. */
function awayFromFaults(text: string, tree: Tree): (problem: Problem) => boolean {
  const faults = tree.problems.filter(({ code }) => code === "syntax");
  if (faults.length === 0) return () => true;
  const lines = indexLines(text);
  const broken = new Set(faults.map(({ span }) => lines.position(span.start).line));
  return ({ place }) => !broken.has(lines.position(place.span.start).line);
}
