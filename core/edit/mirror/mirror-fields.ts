import { axisDimension } from "../../model/axis-quantity.ts";
import { valueOf, type TreeNode } from "../../syntax/tree.ts";
import type { TextEdits } from "../apply-edits.ts";
import type { RigMirror } from "./mirror-axes.ts";
import type { Mirroring } from "./mirror-miss.ts";
import { affineEdit, Unwritable } from "./mirror-values.ts";
import type { MoveText } from "../times/time-edits.ts";

export type Edits = TextEdits | Unwritable;

/** All of several edits, or why one of them cannot be made. */
export function together(parts: readonly Edits[]): Edits {
  const not = parts.find((part) => part instanceof Unwritable);
  return not ?? parts.flatMap((part) => (part instanceof Unwritable ? [] : part));
}

/** The name of a target that stands in the text becomes that of its partner; other words stay. */
export function partnerEdit({ move, text }: MoveText, node: TreeNode | undefined, { partner }: Mirroring): Edits {
  if (node?.kind !== "scalar" || typeof node.value !== "string") return [];
  const target = move.targets.findIndex(({ name }) => name === node.value);
  if (target < 0 || partner[target] < 0 || partner[target] === target) return [];
  const mark = node.style === "quoted" ? text[node.start] : "";
  return [{ span: { start: node.start, end: node.end }, text: mark + move.targets[partner[target]].name + mark }];
}

/** Values of axes by name, of a key, of `setup`, `near` or the way back. */
export function axesEdits(document: MoveText, node: TreeNode | undefined, { axes }: RigMirror): Edits {
  const { move } = document;
  const map = valueOf(node);
  if (map?.kind !== "map") return [];
  return together(
    map.entries.map(({ name, value }) => {
      const axis = move.axes.findIndex((one) => one.name === name);
      if (axis < 0) return [];
      const { sign, offset } = axes[axis];
      return affineEdit(document, value, axisDimension(move.axes[axis].type, 0), sign, offset);
    }),
  );
}
