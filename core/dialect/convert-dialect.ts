import { readAllows, type Allow } from "../checks/allow.ts";
import { parseTree } from "../syntax/parse.ts";
import type { Comment, Tree, TreeNode } from "../syntax/tree.ts";
import { isSamePlain, plainData, type PlainData, type PlainMap } from "./plain-data.ts";
import { writeJson } from "./write-json.ts";
import { writeYaml } from "./write-yaml.ts";

/** A document in the other format, or why there is none, as a sentence without its full stop. */
export type Converted =
  | {
      readonly text: string;
      /** Comments that the other format cannot hold. */
      readonly lost: readonly Comment[];
    }
  | { readonly refusal: string };

/**
 * The same document as JSON, where it is YAML, and the other way round. What is written is read again and must say the same. The
 * comments by which findings are allowed become fields, which mean the same.
 */
export function convertDialect(text: string, tree: Tree): Converted {
  const refusal = obstacleOf(text, tree);
  if (refusal !== undefined) return { refusal };
  const format = tree.format === "yaml" ? "json" : "yaml";
  const allows = tree.format === "yaml" ? statedInComments(text, tree) : [];
  const { data, taken } = withAllows(tree.root, text, allows);
  const written = format === "json" ? writeJson(data) : writeYaml(data);
  const again = parseTree(written, format);
  if (again.problems.length > 0 || !isSamePlain(data, plainData(again.root, written))) {
    return { refusal: `a value in it cannot be written in ${format === "json" ? "JSON" : "YAML"}` };
  }
  const lineEnd = text.includes("\r\n") ? "\r\n" : "\n";
  const lost = tree.comments.filter((comment) => !taken.some(({ span }) => span === comment));
  return { text: written.replaceAll("\n", lineEnd), lost: format === "json" ? lost : [] };
}

/**
 * Why a document cannot be converted, as a sentence without its full stop: a text that is not well formed says different things
 * to different readers. `undefined` where nothing is in the way.
 */
export function obstacleOf(text: string, { problems, root, format }: Tree): string | undefined {
  const [first] = problems;
  if (first) return `line ${lineOf(text, first.span.start)} must be mended first: ${inner(first.message)}`;
  if (root === undefined) return "the document is empty";
  const number = format === "yaml" ? unlimited(root) : undefined;
  if (number)
    return `JSON has no \`${text.slice(number.start, number.end)}\`, which stands in line ${lineOf(text, number.start)}`;
  return undefined;
}

const inner = (sentence: string): string =>
  `${/^[A-Z][a-z]/.test(sentence) ? sentence.charAt(0).toLowerCase() + sentence.slice(1) : sentence}`.replace(
    /\.$/,
    "",
  );

/** The first number that is infinite or none. */
function unlimited(node: TreeNode | undefined): TreeNode | undefined {
  if (!node || node.kind === "alias") return undefined;
  if (node.kind === "scalar") return typeof node.value === "number" && !Number.isFinite(node.value) ? node : undefined;
  const inside = node.kind === "list" ? node.items : node.entries.map(({ value }) => value);
  for (const one of inside) {
    const found = unlimited(one);
    if (found) return found;
  }
  return undefined;
}

/** Line of an offset, from 1. */
export const lineOf = (text: string, offset: number): number => text.slice(0, offset).split("\n").length;

/** Comments that say nothing to us: all but those by which findings are allowed. */
export function plainComments(text: string, tree: Tree): readonly Comment[] {
  const stated = statedInComments(text, tree);
  return tree.comments.filter((comment) => !stated.some(({ span }) => span === comment));
}

const statedInComments = (text: string, tree: Tree): readonly Allow[] =>
  readAllows(text, tree).filter(({ span }) => tree.comments.includes(span as Comment));

/** The data with each of the allows in the map that it is about, and which of them found a place there. */
function withAllows(
  root: TreeNode | undefined,
  text: string,
  allows: readonly Allow[],
): { readonly data: PlainData; readonly taken: readonly Allow[] } {
  const taken: Allow[] = [];
  const given = (data: PlainData, own: readonly Allow[]): PlainData => {
    if (own.length === 0 || data.kind !== "map") return data;
    const stated = data.entries.find(([name]) => name === "allow")?.[1];
    if (stated && stated.kind !== "list") return data;
    taken.push(...own);
    return allowing(data, [...(stated?.items ?? []), ...own.map(allowData)]);
  };
  const whole = allows.filter(({ scope }) => scope.start === 0 && text.length < scope.end);
  const itemOf = (node: TreeNode | undefined): readonly Allow[] =>
    node ? allows.filter((one) => !whole.includes(one) && one.scope.start === node.start) : [];
  const data = plainData(root, text);
  if (allows.length === 0 || data.kind !== "map" || root?.kind !== "map") return { data, taken };
  // Findings stand in items of lists right below the root: keys, shots, cuts.
  const entries = data.entries.map(([name, value], i) => {
    const node = root.entries[i].value;
    const list = node?.kind === "alias" ? node.target : node;
    if (value.kind !== "list" || list?.kind !== "list") return [name, value] as const;
    return [name, { ...value, items: value.items.map((item, k) => given(item, itemOf(list.items[k]))) }] as const;
  });
  return { data: given({ kind: "map", entries }, whole), taken };
}

function allowing(map: PlainMap, items: readonly PlainData[]): PlainMap {
  const list: PlainData = { kind: "list", items };
  const isStated = map.entries.some(([name]) => name === "allow");
  const entries = map.entries.map(([name, value]) => [name, name === "allow" ? list : value] as const);
  return { kind: "map", entries: isStated ? entries : [...entries, ["allow", list]] };
}

function allowData({ code, reason }: Allow): PlainData {
  const fields = [["code", code], ["reason", reason]] as const; // prettier-ignore
  const stated = fields.filter(([, value]) => value !== "");
  return { kind: "map", entries: stated.map(([name, value]) => [name, { kind: "scalar", value }] as const) };
}
