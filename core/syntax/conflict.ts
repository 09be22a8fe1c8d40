import type { TreeProblem } from "./tree.ts";

const CONFLICT = /^<{7}(?: .*)?$/m;

/**
 * A text that a merge left in conflict, with the marks and the other side blanked (same length, so that places hold),
 * and one finding at the first mark. `undefined` when there is none.
 */
export function readConflict(text: string): { readonly text: string; readonly problem: TreeProblem } | undefined {
  const first = CONFLICT.exec(text);
  if (!first || !/^={7}\r?$/m.test(text) || !/^>{7}/m.test(text)) return undefined;
  let side: "both" | "ours" | "theirs" = "both";
  const lines = text.split("\n").map((line) => {
    const mark = /^(<{7}|\|{7}|={7}|>{7})(?=[ \r]|$)/.exec(line)?.[1][0];
    if (mark === "<") side = "ours";
    else if ((mark === "|" || mark === "=") && side !== "both") side = "theirs";
    else if (mark === ">" && side === "theirs") side = "both";
    else if (side !== "theirs") return line;
    return line.replace(/[^\r]/g, " ");
  });
  return {
    text: lines.join("\n"),
    problem: {
      code: "syntax",
      span: { start: first.index, end: first.index + first[0].trimEnd().length },
      message: "A merge left a conflict here: keep one side and delete the marks. Until then the first side is read.",
    },
  };
}
