import { readFileSync } from "node:fs";
import { runToEnd } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";

const disk: Sources = {
  read(file) {
    try {
      return { state: "text", text: readFileSync(file, "utf8") };
    } catch {
      return { state: "missing" };
    }
  },
};

/** A move of the demo as the engine resolves it. Fails with the findings when it does not. */
export function demoMove(file: string): ResolvedMove {
  const { move, textFindings } = runToEnd(analyse(file, disk));
  if (move === undefined) throw new Error(`${file}: ${textFindings.map((one) => one.message).join(" ")}`);
  return move;
}
