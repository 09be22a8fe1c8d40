import { valueOf, type TreeNode } from "../syntax/tree.ts";
import { clash } from "./bits.ts";
import { isWithin } from "./lines.ts";
import { mergeNotes } from "./merge-notes.ts";
import { bodyOf, type Collection, type Part } from "./part.ts";
import { isSameMeaning } from "./same-value.ts";
import { saidOf } from "./said.ts";
import type { Shapes } from "./shapes.ts";
import { NotCut, type Three } from "./sides.ts";
import type { Merged, Merging } from "./merging.ts";

/** Merges one field or one item as three sides have it, without what leads to it. */
export function mergePart(merging: Merging, three: Three<Part>, shapes: Shapes): Merged {
  const { base, ours, theirs } = three;
  const texts = { base: base && bodyOf(base), ours: bodyOf(ours), theirs: bodyOf(theirs) };
  if (texts.ours === texts.theirs || texts.theirs === texts.base) return whole(ours);
  if (texts.ours === texts.base) return whole(theirs);
  try {
    const inside = mergeInside(merging, three, shapes);
    if (inside) return inside;
  } catch (error) {
    if (!(error instanceof NotCut)) throw error;
  }
  return chosen(merging, three, shapes) ?? clashing(three);
}

/** A part as its side has it. */
export function whole(part: Part): Merged {
  const said = saidOf(part.node);
  return { bits: [bodyOf(part)], ours: said, theirs: said };
}

function clashing({ ours, theirs }: Three<Part>): Merged {
  return { bits: [clash(bodyOf(ours), bodyOf(theirs))], ours: saidOf(ours.node), theirs: saidOf(theirs.node) };
}

/** Name, value and what follows each for itself; `undefined` where the sides write the part in different ways. */
function mergeInside(merging: Merging, three: Three<Part>, shapes: Shapes): Merged | undefined {
  const parts = given(three);
  const [first] = parts;
  if (parts.some(({ name, node }) => name !== first.name || layoutOf(node) !== layoutOf(first.node))) return undefined;
  if (parts.some(({ region }) => region.inline !== first.region.inline)) return undefined;
  const { base, ours, theirs } = three;
  const value = isTaken(parts)
    ? merging.mergeCollection(merging, three as Three<Collection>, shapes)
    : mergeValue(merging, three, shapes);
  if (!value) return undefined;
  const head = mergeNotes(base?.head, ours.head, theirs.head);
  const tail = mergeNotes(base?.tail, ours.tail, theirs.tail);
  return { ...value, bits: [...head, ...value.bits, ...tail] };
}

const given = ({ base, ours, theirs }: Three<Part>): readonly Part[] => (base ? [base, ours, theirs] : [ours, theirs]);

/** How a value stands in its text: values of one layout can take each other's place. */
function layoutOf(node: TreeNode | undefined): string {
  if (!node || node.kind === "alias") return "line";
  if (node.kind === "scalar") return node.style === "block" ? "text" : "line";
  return node.flow ? "line" : node.kind;
}

/** True where all values are maps, or lists of more than plain values, so that they are merged part by part. */
function isTaken(parts: readonly Part[]): boolean {
  const kinds = new Set(
    parts.map(({ node }) =>
      node && node.kind !== "scalar" && node.kind !== "alias" ? node.kind + String(node.flow) : "",
    ),
  );
  if (kinds.size !== 1 || kinds.has("")) return false;
  // A list of plain values in brackets, such as a point, is one value.
  return !parts.every(({ node }) => node?.kind === "list" && node.flow && node.items.every(isPlain));
}

const isPlain = (node: TreeNode | undefined): boolean => valueOf(node)?.kind === "scalar";

/** A value that is one: of the side that changed what it means; a clash where both did. */
function mergeValue(merging: Merging, three: Three<Part>, shapes: Shapes): Merged | undefined {
  const { base, ours, theirs } = three;
  const of = (part: Part): Merged => ({ ...whole(part), bits: [part.value] });
  if (ours.value === theirs.value || theirs.value === base?.value) return of(ours);
  if (ours.value === base?.value) return of(theirs);
  const taken = sideOfMeaning(merging, three, shapes);
  if (taken) return of(taken);
  return { bits: [clash(ours.value, theirs.value)], ours: saidOf(ours.node), theirs: saidOf(theirs.node) };
}

/** The same of the whole part. */
function chosen(merging: Merging, three: Three<Part>, shapes: Shapes): Merged | undefined {
  const { base, ours, theirs } = three;
  if (ours.name !== theirs.name && (!base || (base.name !== ours.name && base.name !== theirs.name))) return undefined;
  const taken = sideOfMeaning(merging, three, shapes);
  return taken && whole(taken);
}

/** The side that alone changed what a part means, or ours where both mean the same, if no comment is lost by it. */
function sideOfMeaning({ timing }: Merging, { base, ours, theirs }: Three<Part>, shapes: Shapes): Part | undefined {
  const same = (one: Part, other: Part): boolean =>
    one.name === other.name && isSameMeaning(one.node, other.node, shapes, timing);
  const keeps = (taken: Part, left: Part): boolean =>
    isWithin(commentsIn(left), [...commentsIn(taken), ...(base ? commentsIn(base) : [])]);
  if (same(ours, theirs)) return keeps(ours, theirs) ? ours : undefined;
  if (base && same(base, theirs)) return keeps(ours, theirs) ? ours : undefined;
  if (base && same(base, ours)) return keeps(theirs, ours) ? theirs : undefined;
  return undefined;
}

/** What the comments inside of a part say. */
export function commentsIn({ side, span }: Pick<Part, "side" | "span">): string[] {
  const { comments } = side.tree;
  let low = 0;
  for (let high = comments.length; low < high;) {
    const middle = (low + high) >> 1;
    if (comments[middle].start < span.start) low = middle + 1;
    else high = middle;
  }
  const out: string[] = [];
  for (let i = low; i < comments.length && comments[i].start < span.end; i++) out.push(comments[i].text);
  return out;
}
