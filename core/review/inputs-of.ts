import { resolveReference } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import { analyseText } from "../checks/analyse.ts";
import type { AnalysisMemo } from "../checks/memo.ts";
import { documentKind } from "../model/document-kind.ts";
import { formOf } from "../model/read.ts";
import { configsAbove } from "../model/resolve-config.ts";
import type { Sources } from "../model/sources.ts";
import { treeOf } from "../model/tree-of.ts";
import { SHAPES } from "../schema/documents.ts";
import type { Shape } from "../schema/shape.ts";
import { valueOf, type TreeNode } from "../syntax/tree.ts";

/** Files that an analysis hangs on, and those of them that must be read first. */
export interface Inputs {
  readonly inputs: readonly FileId[];
  readonly unread: readonly FileId[];
}

/**
 * Tells the files that documents of one side hang on, missing ones included. A move is not resolved for it: it hangs on what
 * it names, on what those documents hang on, and on the configs above it.
 */
export function inputsReader(sources: Sources, memo: AnalysisMemo): (file: FileId) => Inputs {
  const known = new Map<FileId, Inputs>();
  const ofDocument = (file: FileId): Inputs => {
    const found = known.get(file) ?? analyseText(file, sources, memo);
    known.set(file, found);
    return found;
  };
  return (file) => {
    const source = sources.read(file);
    if (documentKind(file)?.kind !== "move" || source.state !== "text") return ofDocument(file);
    const inputs = new Set<FileId>([file, ...configsAbove(file)]);
    const unread = new Set<FileId>();
    for (const named of referencesIn(SHAPES.move, treeOf(memo.documents, file, source.text).root)) {
      const other = resolveReference(file, named);
      inputs.add(other);
      if (!documentKind(other) || documentKind(other)?.kind === "move") continue;
      const { inputs: inner, unread: missing } = ofDocument(other);
      // What configs say of a document that it names is of that document alone.
      for (const input of inner) if (documentKind(input)?.kind !== "config") inputs.add(input);
      for (const input of missing) unread.add(input);
    }
    for (const input of inputs) if (sources.read(input).state === "unread") unread.add(input);
    return { inputs: [...inputs], unread: [...unread] };
  };
}

/** Files that a text names, as written. */
function referencesIn(shape: Shape, node: TreeNode | undefined): string[] {
  const value = valueOf(node);
  if (!value || !mayName(shape)) return [];
  const form = shape.kind === "either" ? formOf(shape, value) : shape;
  if (form?.kind === "scalar" && value.kind === "scalar") {
    return form.facts.type === "reference" && value.value !== null ? [String(value.value).trim()] : [];
  }
  if (form?.kind === "list" && value.kind === "list")
    return value.items.flatMap((item) => referencesIn(form.item, item));
  if (value.kind !== "map") return [];
  return value.entries.flatMap(({ name, value: inner }) => {
    const shape = form?.kind === "map" ? form.fields.get(name)?.shape : form?.kind === "record" ? form.item : undefined;
    return shape ? referencesIn(shape, inner) : [];
  });
}

/** Whether a file can be named anywhere in what has this shape: not in keys, of which there may be thousands. */
function mayName(shape: Shape): boolean {
  switch (shape.kind) {
    case "map":
      return [...shape.fields.values()].some((field) => mayName(field.shape));
    case "record":
    case "list":
      return mayName(shape.item);
    case "tuple":
      return shape.items.some(mayName);
    case "either":
      return shape.options.some(mayName);
    case "scalar":
      return shape.facts.type === "reference";
  }
}
