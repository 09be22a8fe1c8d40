import { DOCUMENT_CODES, MOTION_CODES, type FindingCode } from "../base/finding-code.ts";
import type { FileId, Span } from "../base/span.ts";
import { entryOf, valueOf, type Comment, type Tree, type TreeNode } from "../syntax/tree.ts";
import type { PlacedFinding } from "./finding.ts";

/** One statement that findings of a code are meant, and where it holds. */
export interface Allow {
  readonly code: string;
  /** Empty when none is given. */
  readonly reason: string;
  /** The statement itself. */
  readonly span: Span;
  /** Findings that begin in here are meant. */
  readonly scope: Span;
}

const CODES: ReadonlySet<string> = new Set<FindingCode>([...DOCUMENT_CODES, ...MOTION_CODES]);

/** What no reason can allow: the document could not be read, or the program failed. */
const NEVER: ReadonlySet<string> = new Set<FindingCode>(["syntax", "internal-error", "allow", "too-large", "too-deep"]);

/**
 * All allows of a document: `allow: [{ code, reason }]` on it or on a key, and in YAML the comment `# allow CODE: reason`.
 * A comment in a key, or alone above it at the height of its dash, is about that key; any other is about the document. The
 * shots and cuts of a shoot are as keys here.
 */
export function readAllows(text: string, tree: Tree): Allow[] {
  const keys = keyRegions(text, tree);
  const whole: Span = { start: 0, end: text.length + 1 };
  return [
    ...allowFields(tree.root, whole),
    ...keys.flatMap((key) => allowFields(key.node, key.region)),
    ...tree.comments.flatMap((comment) => allowComment(comment, () => scopeOf(text, comment, keys) ?? whole)),
  ];
}

function allowFields(node: TreeNode | undefined, scope: Span): Allow[] {
  const list = valueOf(entryOf(node, "allow")?.value);
  if (list?.kind !== "list") return [];
  return list.items.flatMap((item) => {
    const code = scalarText(item, "code");
    if (!item || code === undefined) return [];
    return [{ code, reason: (scalarText(item, "reason") ?? "").trim(), span: item, scope }];
  });
}

function scalarText(node: TreeNode | undefined, name: string): string | undefined {
  const value = valueOf(entryOf(node, name)?.value);
  return value?.kind === "scalar" && value.value !== null ? String(value.value) : undefined;
}

function allowComment(comment: Comment, scope: () => Span): Allow[] {
  const match = /^allow\s+([a-z][a-z-]*)\s*(?:(:)\s*(.*))?$/.exec(comment.text);
  // Prose such as "allow time" is no statement; a colon or a known code makes it one.
  if (!match || (match[2] === undefined && !CODES.has(match[1]))) return [];
  return [{ code: match[1], reason: (match[3] ?? "").trim(), span: comment, scope: scope() }];
}

/** A key, or another item of a list that findings stand in. */
interface KeyRegion {
  readonly node: TreeNode;
  /** Column of the key's dash, or of its first character in a flow list. */
  readonly column: number;
  /** From the key's first character to the next key's, or to the end of the list's lines. */
  readonly region: Span;
}

/** Lists whose items findings stand in: keys of a move, shots and cuts of a shoot. */
const LISTS = ["keys", "shots", "match"] as const;

function keyRegions(text: string, tree: Tree): KeyRegion[] {
  return LISTS.flatMap((name) => itemRegions(text, entryOf(tree.root, name)?.value)).sort(
    (a, b) => a.region.start - b.region.start,
  );
}

function itemRegions(text: string, value: TreeNode | undefined): KeyRegion[] {
  const list = valueOf(value);
  if (list?.kind !== "list") return [];
  const nodes = list.items.filter((item) => item !== undefined);
  return nodes.map((node, idx) => {
    const dash = list.flow ? node.start : text.lastIndexOf("-", node.start);
    return {
      node,
      column: dash - (text.lastIndexOf("\n", dash - 1) + 1),
      region: { start: node.start, end: nodes[idx + 1]?.start ?? lineEnd(text, node.end) },
    };
  });
}

function lineEnd(text: string, offset: number): number {
  const end = text.indexOf("\n", offset);
  return end < 0 ? text.length : end;
}

function scopeOf(text: string, comment: Comment, keys: readonly KeyRegion[]): Span | undefined {
  const lineStart = text.lastIndexOf("\n", comment.start - 1) + 1;
  const isAlone = text.slice(lineStart, comment.start).trim() === "";
  const column = comment.start - lineStart;
  if (isAlone) {
    const next = keys.find((key) => key.node.start > comment.start);
    if (next && column <= next.column && isBlank(text.slice(comment.end, next.node.start))) return next.region;
  }
  // A last comment below the last key, still indented into it, is about that key.
  const last = keys.filter((key) => key.node.start <= comment.start).at(-1);
  if (!last) return undefined;
  const isInside = comment.start < last.region.end;
  const isBelow = isAlone && column > last.column && isBlank(text.slice(last.node.end, comment.start));
  return isInside || isBelow ? last.region : undefined;
}

/** Nothing but blanks, comments and the dash of the next item. */
const isBlank = (text: string): boolean => /^(\s|#[^\n]*(\n|$)|-(?=\s|$))*$/.test(text);

/**
 * Marks the findings that are allowed: they stay, as hints with the reason. `hasMotion` says that the motion was looked
 * at, so that an allow that allows nothing can be told.
 */
export function applyAllows(
  file: FileId,
  allows: readonly Allow[],
  findings: readonly PlacedFinding[],
  hasMotion: boolean,
): { readonly findings: readonly PlacedFinding[]; readonly faults: readonly PlacedFinding[] } {
  const used = new Set<Allow>();
  const marked = findings.map((finding): PlacedFinding => {
    if (NEVER.has(finding.code)) return finding;
    const matching = allows.filter((one) => one.code === finding.code && holds(one.scope, finding.place.span.start));
    for (const one of matching) used.add(one);
    const allow = matching.find((one) => one.reason !== "");
    return allow ? { ...finding, severity: "hint", allowed: allow.reason } : finding;
  });
  const faults = allows.flatMap((one): PlacedFinding[] => {
    const message = faultOf(one, used.has(one), hasMotion);
    return message === undefined ? [] : [fault(file, one, message)];
  });
  return { findings: marked, faults };
}

const holds = (scope: Span, offset: number): boolean => scope.start <= offset && offset < scope.end;

function faultOf({ code, reason }: Allow, isUsed: boolean, hasMotion: boolean): string | undefined {
  if (!CODES.has(code)) return `\`${code}\` is no code of a finding, so this allows nothing.`;
  if (NEVER.has(code)) return `\`${code}\` cannot be allowed: mend what it names.`;
  if (reason === "")
    return `An allow needs its reason, or nobody knows later why ${code} was meant; it does not count.`;
  if (isUsed || (!hasMotion && (MOTION_CODES as readonly string[]).includes(code))) return undefined;
  return `Nothing here gives the finding ${code}, so this allows nothing; remove it.`;
}

function fault(file: FileId, { span }: Allow, message: string): PlacedFinding {
  const place = { file, span: { start: span.start, end: span.end } };
  return { code: "allow", severity: "warning", message, place, related: [], cures: [] };
}
