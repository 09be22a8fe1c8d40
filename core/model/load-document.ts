import { baseName } from "../base/path.ts";
import type { Problem } from "../base/problem.ts";
import type { FileId, Span } from "../base/span.ts";
import { SHAPES, type SchemaOf } from "../schema/documents.ts";
import { indexLines } from "../syntax/lines.ts";
import { parseTree } from "../syntax/parse.ts";
import { entryOf, valueOf, type Tree } from "../syntax/tree.ts";
import type { Declared } from "./declared.ts";
import { DOCUMENT_KINDS, type DocumentKind, type TextFormat } from "./document-kind.ts";
import { readMap } from "./read.ts";
import { report, type Reporter } from "./report.ts";

/** A document as far as its own text tells: what other files say of its names is not looked at. */
export interface Document<K extends DocumentKind = DocumentKind> {
  readonly file: FileId;
  readonly kind: K;
  readonly format: TextFormat;
  readonly text: string;
  readonly tree: Tree;
  /** Absent for an empty document, one of the wrong kind, or one that could not be read at all. */
  readonly declared?: Declared<SchemaOf<K>>;
  readonly problems: readonly Problem[];
}

/** Reads a text into declarations. Never throws; faults of the text are in `problems`. */
export function readDocument<K extends DocumentKind>(
  file: FileId,
  kind: K,
  format: TextFormat,
  text: string,
): Document<K> {
  const tree = parseTree(text, format);
  const to: Reporter = { file, text, format, problems: [] };
  for (const { code, span, message, cure } of tree.problems) {
    report(to, code, span, message, cure ? { cures: [{ title: cure.title, file, edits: cure.edits }] } : {});
  }
  const own = { file, text, format, problems: [] as Problem[] };
  const declared = readRoot(own, kind, tree);
  const problems = [...to.problems, ...own.problems.filter(awayFromFaults(text, tree))];
  const read = { file, kind, format, text, tree, problems };
  return declared ? { ...read, declared: declared as Declared<SchemaOf<K>> } : read;
}

function readRoot(to: Reporter, kind: DocumentKind, tree: Tree): unknown {
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
  return readMap(to, SHAPES[kind], root, { label: kind, span });
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
