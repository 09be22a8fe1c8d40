import { isAlias, isMap, isScalar, isSeq, type Document, type ParsedNode, type Scalar as YamlScalar } from "yaml";
import type { Span } from "../base/span.ts";
import { MAX_ALIASED_NODES, MAX_ALIASES } from "./caps.ts";
import type { AliasNode, MapEntry, Scalar, ScalarNode, TreeNode, TreeProblem } from "./tree.ts";

type Anchored = Exclude<TreeNode, AliasNode>;

interface Build {
  readonly problems: TreeProblem[];
  /** Anchors that are complete, with the count of nodes that each stands for. */
  readonly anchors: Map<string, { readonly node: Anchored; readonly size: number }>;
  aliases: number;
  aliased: number;
  exhausted: boolean;
  /** Nodes built so far, those that aliases stand for counted again. */
  size: number;
}

/** Our tree of a composed document. Aliases stay leaves that know their target, so that no text can grow without bound. */
export function treeOf(document: Document.Parsed, problems: TreeProblem[]): TreeNode | undefined {
  const build: Build = { problems, anchors: new Map(), aliases: 0, aliased: 0, exhausted: false, size: 0 };
  return nodeOf(document.contents, build);
}

function nodeOf(node: ParsedNode | null | undefined, build: Build): TreeNode | undefined {
  if (!node) return undefined;
  if (isAlias(node)) return aliasOf(node.source, node.range, build);
  const before = build.size;
  build.size += 1;
  const made = isScalar(node) ? scalarOf(node) : collectionOf(node, build);
  if (made && node.anchor) build.anchors.set(node.anchor, { node: made, size: build.size - before });
  return made;
}

function collectionOf(node: ParsedNode, build: Build): Anchored | undefined {
  const [start, valueEnd] = node.range;
  if (isSeq(node)) {
    const items = node.items.map((item) => withoutVoid(nodeOf(item as ParsedNode, build)));
    const end = items.reduce((furthest, item) => Math.max(furthest, item?.end ?? 0), start + 1);
    return {
      kind: "list",
      start,
      end: node.flow ? valueEnd : end,
      items,
      flow: node.flow === true,
    };
  }
  if (!isMap(node)) return undefined;
  const entries: MapEntry[] = [];
  for (const pair of node.items) {
    const entry = entryOf(pair.key as ParsedNode | null, pair.value as ParsedNode | null, start, build);
    if (entry) entries.push(entry);
  }
  reportDoubles(entries, build.problems);
  const end = node.flow ? valueEnd : (entries[entries.length - 1]?.end ?? start);
  return { kind: "map", start, end, entries, flow: node.flow === true };
}

function entryOf(
  key: ParsedNode | null,
  value: ParsedNode | null,
  mapStart: number,
  build: Build,
): MapEntry | undefined {
  const at = key?.range ?? [value?.range[0] ?? mapStart, value?.range[0] ?? mapStart];
  const nameSpan: Span = { start: at[0], end: at[1] };
  if (key && !isScalar(key)) {
    build.problems.push({ code: "syntax", span: nameSpan, message: "The name of a field must be plain text." });
    return undefined;
  }
  const scalar = key as YamlScalar.Parsed | null;
  const name = scalar ? (scalar.source ?? String(scalar.value)) : "";
  const made = withoutVoid(nodeOf(value, build));
  return { name, nameSpan, value: made, start: nameSpan.start, end: Math.max(nameSpan.end, made?.end ?? 0) };
}

/** YAML gives a null of no width where nothing is written; a written `null` or `~` stays. */
function withoutVoid(node: TreeNode | undefined): TreeNode | undefined {
  return node?.kind === "scalar" && node.value === null && node.start === node.end ? undefined : node;
}

function scalarOf(node: YamlScalar.Parsed): ScalarNode {
  const value = node.value as unknown;
  const known = value === null || typeof value === "string" || typeof value === "number" || typeof value === "boolean";
  const style = node.type === "PLAIN" ? "plain" : node.type?.startsWith("QUOTE") ? "quoted" : "block";
  const [start, end] = node.range;
  return { kind: "scalar", start, end, value: known ? (value as Scalar) : String(value), style };
}

function aliasOf(name: string, range: readonly [number, number, number], build: Build): AliasNode {
  const span = { start: range[0], end: range[1] };
  const anchor = build.anchors.get(name);
  build.aliases += 1;
  build.aliased += anchor?.size ?? 0;
  build.size += anchor?.size ?? 1;
  if (!anchor) {
    const message = `\`*${name}\` has no anchor \`&${name}\` that is complete before it.`;
    build.problems.push({ code: "syntax", span, message });
    return { kind: "alias", ...span, target: undefined };
  }
  if (build.aliases <= MAX_ALIASES && build.aliased <= MAX_ALIASED_NODES) {
    return { kind: "alias", ...span, target: anchor.node };
  }
  if (!build.exhausted) {
    build.exhausted = true;
    const caps = `at most ${MAX_ALIASES} aliases that stand for ${MAX_ALIASED_NODES} values together`;
    const message = `Here the aliases are too many: ${caps} are read. Write the values out, or leave some away.`;
    build.problems.push({ code: "too-many-aliases", span, message });
  }
  return { kind: "alias", ...span, target: undefined };
}

/** One finding at each second entry of a name. */
export function reportDoubles(entries: readonly MapEntry[], problems: TreeProblem[]): void {
  const seen = new Set<string>();
  for (const { name, nameSpan } of entries) {
    if (seen.has(name)) {
      const message = `\`${name}\` stands twice in this map; the first one is read. Delete or rename one.`;
      problems.push({ code: "duplicate-name", span: nameSpan, message });
    }
    seen.add(name);
  }
}
