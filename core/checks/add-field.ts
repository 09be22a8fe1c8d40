import type { TextCure } from "../base/problem.ts";
import type { FileId } from "../base/span.ts";
import { valueOf, type MapEntry, type Tree, type TreeNode } from "../syntax/tree.ts";
import type { AddedField } from "./finding.ts";

/**
 * The smallest edit that gives a map another field, or its field another value: in front of the field whose value begins at
 * `offset`, in the layout that it stands in. Nothing where no field does.
 */
export function addFieldCure(
  file: FileId,
  text: string,
  tree: Tree,
  offset: number,
  { field, value }: AddedField,
): TextCure | undefined {
  const found = fieldAt(tree.root, offset);
  if (!found) return undefined;
  const isJson = tree.format === "json";
  const spelled = spelledFor(isJson, value);
  const old = found.map.entries.find(({ name }) => name === field);
  const title = `${old?.value ? "Set" : "Add"} \`${field}: ${value}\``;
  if (old?.value) {
    return { title, file, edits: [{ span: { start: old.value.start, end: old.value.end }, text: spelled }] };
  }
  const { start } = found.entry.nameSpan;
  const written = `${isJson ? JSON.stringify(field) : field}: ${spelled}`;
  const column = start - (text.lastIndexOf("\n", start - 1) + 1);
  const after = found.map.flow || isJson ? ", " : `${lineEnd(text)}${" ".repeat(column)}`;
  return { title, file, edits: [{ span: { start, end: start }, text: written + after }] };
}

/** A value as a document of the format spells it: what is no number, truth value or list of numbers is a string in JSON. */
export const spelledFor = (isJson: boolean, value: string): string =>
  isJson && !/^(true|false|-?\d[\d.]*|\[[-\d., ]*\])$/.test(value) ? JSON.stringify(value) : value;

const lineEnd = (text: string): string => (text.includes("\r\n") ? "\r\n" : "\n");

type Found = { readonly map: Extract<TreeNode, { readonly kind: "map" }>; readonly entry: MapEntry };

/** The innermost field whose value begins at `offset`. */
function fieldAt(node: TreeNode | undefined, offset: number): Found | undefined {
  const value = valueOf(node);
  if (value === undefined || offset < value.start || value.end < offset) return undefined;
  if (value.kind === "list") {
    for (const item of value.items) {
      const found = fieldAt(item, offset);
      if (found) return found;
    }
    return undefined;
  }
  if (value.kind !== "map") return undefined;
  for (const entry of value.entries) {
    const found = fieldAt(entry.value, offset);
    if (found) return found;
    if (entry.value?.start === offset) return { map: value, entry };
  }
  return undefined;
}
