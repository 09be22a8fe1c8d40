import { parseRate, type Rate } from "../base/rate.ts";
import { parseTimecode } from "../base/timecode.ts";
import type { DocumentKind } from "../model/document-kind.ts";
import { SHAPES } from "../schema/documents.ts";
import { entryOf, valueOf, type ListNode, type MapNode, type Scalar } from "../syntax/tree.ts";
import type { Bit } from "./bits.ts";
import { lineStart } from "./lines.ts";
import { mergeCollection } from "./merge-collection.ts";
import type { Collection } from "./part.ts";
import { mergeNotes } from "./merge-notes.ts";
import type { Merged, Merging } from "./merging.ts";
import { NotCut, type Side, type Three, type Timing } from "./sides.ts";

/** Merges three texts of one document by what they say. Throws `NotCut` where a text cannot be taken apart as a whole. */
export function mergeDocument(sides: Three<Side>, kind: DocumentKind): Merged {
  const merging: Merging = { timing: timingOf(sides), mergeCollection };
  const { base, ours, theirs } = sides;
  const roots = { base: base && rootOf(base), ours: rootOf(ours), theirs: rootOf(theirs) };
  const layouts = new Set([roots.base, roots.ours, roots.theirs].flatMap((root) => (root ? [root.node.flow] : [])));
  if (layouts.size !== 1) throw new NotCut("One side is in brackets, another in lines.");
  const value = mergeCollection(merging, roots, [SHAPES[kind]]);
  const before = mergeNotes(roots.base?.head, roots.ours.head, roots.theirs.head);
  const after = mergeNotes(roots.base?.tail, roots.ours.tail, roots.theirs.tail);
  return { ...value, bits: [...before, ...value.bits, ...after] satisfies readonly Bit[] };
}

/** The whole text as one part: what stands above the first field is its head. */
function rootOf(side: Side): Collection {
  const { text } = side;
  const node: MapNode | ListNode | undefined = valueOf(side.tree.root)?.kind === "map" ? mapOf(side) : undefined;
  if (!node) throw new NotCut("The document is no map.");
  const first = node.kind === "map" ? node.entries[0]?.start : undefined;
  const start = node.flow || first === undefined ? node.start : lineStart(text, first);
  const end = node.flow ? node.end : text.length;
  const cut = (from: number, to: number): string => text.slice(from, to);
  return {
    side,
    name: "",
    node,
    lead: undefined,
    head: cut(0, start),
    value: cut(start, end),
    tail: cut(end, text.length),
    region: { start, end, inline: node.flow },
    span: { start: 0, end: text.length },
  };
}

function mapOf({ tree }: Side): MapNode | undefined {
  const root = valueOf(tree.root);
  return root?.kind === "map" ? root : undefined;
}

/** How times count, where all sides count them in the same way. */
function timingOf({ base, ours, theirs }: Three<Side>): Timing | undefined {
  const [first, ...others] = [ours, theirs, ...(base ? [base] : [])].map(ownTiming);
  const isSame = others.every((other) => first && other && JSON.stringify(first) === JSON.stringify(other));
  return isSame ? first : undefined;
}

const USUAL: Rate = parseRate(25) ?? { num: 25, den: 1, nominal: 25, drop: false };

function ownTiming({ tree }: Side): Timing | undefined {
  const stated = (name: string): Scalar | undefined => {
    const value = valueOf(entryOf(tree.root, name)?.value);
    return value?.kind === "scalar" ? value.value : undefined;
  };
  const rate = stated("rate") === undefined ? USUAL : parseRate(String(stated("rate")));
  if (!rate) return undefined;
  if (stated("start") === undefined) return { rate, startFrame: 0 };
  const start = parseTimecode(String(stated("start")), rate);
  return start.ok ? { rate, startFrame: start.value } : undefined;
}
