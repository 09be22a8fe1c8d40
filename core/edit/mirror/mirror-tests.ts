import { entryOf, valueOf, type MapNode, type TreeNode } from "../../syntax/tree.ts";
import { axisDimension } from "../../model/axis-quantity.ts";
import type { TextEdits } from "../apply-edits.ts";
import { nameText } from "../field-edits.ts";
import type { AxisMirror } from "./mirror-axes.ts";
import type { Mirroring } from "./mirror-miss.ts";
import { affineEdit, flippedShare, Unwritable } from "./mirror-values.ts";
import type { MoveText } from "../times/time-edits.ts";

/**
 * The move's own tests in a mirror: targets by their partners, places in the picture from the other edge, values of axes as
 * they become. What was the lower bound of such a quantity is the upper one then.
 */
export function mirroredTests(
  document: MoveText,
  { partner }: Mirroring,
  axes: readonly AxisMirror[],
): TextEdits | Unwritable {
  const { tree, move, text } = document;
  const list = valueOf(entryOf(tree.root, "expect")?.value);
  if (list?.kind !== "list") return [];
  const edits: TextEdits[number][] = [];
  for (const item of list.items) {
    const of = entryOf(item, "of")?.value;
    if (item?.kind !== "map" || of?.kind !== "scalar" || typeof of.value !== "string") continue;
    const [subject, ...rest] = of.value.split(".");
    const quantity = rest.join(".");
    const target = move.targets.findIndex(({ name }) => name === subject);
    const axis = move.axes.findIndex(({ name }) => name === subject);
    const other = 0 <= target ? partner[target] : -1;
    if (0 <= other && other !== target) {
      const mark = of.style === "quoted" ? text[of.start] : "";
      edits.push({
        span: { start: of.start, end: of.end },
        text: `${mark}${move.targets[other].name}.${quantity}${mark}`,
      });
    }
    const flips = 0 <= target && quantity === "framing.across";
    const moves = 0 <= axis && quantity === "value" && (axes[axis].sign < 0 || axes[axis].offset !== 0);
    if (!flips && !moves) continue;
    const becomes = (node: TreeNode | undefined): TextEdits | Unwritable =>
      flips
        ? flippedShare(document, node)
        : affineEdit(document, node, axisDimension(move.axes[axis].type, 0), axes[axis].sign, axes[axis].offset);
    const bounds = boundEdits(document, item, becomes, flips || axes[axis].sign < 0);
    if (bounds instanceof Unwritable) return bounds;
    edits.push(...bounds);
  }
  return edits;
}

/** New bounds; where the order turns round, those below change places with those above. */
function boundEdits(
  { text, tree }: MoveText,
  item: MapNode,
  becomes: (node: TreeNode | undefined) => TextEdits | Unwritable,
  turns: boolean,
): TextEdits | Unwritable {
  const edits: TextEdits[number][] = [];
  for (const [name, other] of [
    ["below", "above"],
    ["above", "below"],
  ]) {
    const entry = entryOf(item, name);
    if (!entry) continue;
    const made = becomes(entry.value);
    if (made instanceof Unwritable) return made;
    const { start, end } = entry.nameSpan;
    edits.push(...made, ...(turns ? [{ span: { start, end }, text: nameText(tree, other) }] : []));
  }
  const between = entryOf(item, "between")?.value;
  if (between?.kind !== "list" || between.items.length !== 2) return edits;
  const made = between.items.map(becomes);
  for (const [i, part] of made.entries()) {
    if (part instanceof Unwritable) return part;
    const own = between.items[i]!;
    const place = between.items[turns ? 1 - i : i]!;
    const written = part[0]?.text ?? text.slice(own.start, own.end);
    edits.push({ span: { start: place.start, end: place.end }, text: written });
  }
  return edits;
}
