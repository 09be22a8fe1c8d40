import { MAX_TEXT } from "./caps.ts";
import { readConflict } from "./conflict.ts";
import { parseJson } from "./json.ts";
import type { Tree } from "./tree.ts";
import { firstOfEachLine, parseYaml } from "./yaml.ts";

/**
 * Text to tree. Never throws: what cannot be read is in `problems`, the rest is in the tree. A text beyond `MAX_TEXT`
 * is not looked into.
 */
export function parseTree(text: string, format: "yaml" | "json"): Tree {
  if (text.length > MAX_TEXT) {
    const message = `The text has ${text.length} characters; at most ${MAX_TEXT} are read. Split the document.`;
    return {
      format,
      root: undefined,
      comments: [],
      problems: [{ code: "too-large", span: { start: 0, end: 0 }, message }],
    };
  }
  const conflict = readConflict(text);
  const readable = conflict ? conflict.text : text;
  const tree = format === "json" ? parseJson(readable) : parseYaml(readable);
  if (!conflict) return { ...tree, problems: firstOfEachLine(tree.problems, text) };
  const others = tree.problems.filter((problem) => problem.code !== "syntax");
  return { ...tree, problems: [conflict.problem, ...others] };
}
