import { RATES } from "../base/rate.ts";
import { parseTimecode } from "../base/timecode.ts";
import { parseRate } from "../base/rate.ts";
import type { AxisType } from "../model/axis-quantity.ts";
import { entryOf, valueOf, type Scalar, type TreeNode } from "../syntax/tree.ts";
import type { Reading } from "./fields/said.ts";
import type { ReviewSide } from "./review-side.ts";

/** What it takes to read the values of one side's document: its rate, and of which type its axes are. */
export function readingOf({ analysis, text, tree }: ReviewSide): Reading {
  const { file, move } = analysis;
  const types = new Map<string, AxisType>([
    ...writtenAxes(tree?.root),
    ...(move?.axes ?? []).map(({ name, type }): [string, AxisType] => [name, type]),
  ]);
  return { file, text, ...rateOf(tree?.root), axisType: (name) => types.get(name) };
}

/** As the text states it, so that a move that can't be resolved has its own rate too. */
function rateOf(root: TreeNode | undefined): Pick<Reading, "rate" | "startFrame"> {
  const [rateText, startText] = [scalarOf(root, "rate"), scalarOf(root, "start")];
  const rate =
    (typeof rateText === "number" || typeof rateText === "string" ? parseRate(rateText) : undefined) ?? RATES["25"];
  const start = typeof startText === "string" ? parseTimecode(startText, rate) : undefined;
  return { rate, startFrame: start?.ok ? start.value : 0 };
}

/** Types of the axes that a rig's own text states. */
function writtenAxes(root: TreeNode | undefined): [string, AxisType][] {
  const chain = valueOf(entryOf(root, "chain")?.value);
  if (chain?.kind !== "list") return [];
  return chain.items.flatMap((joint): [string, AxisType][] => {
    const [name, type] = [scalarOf(joint, "axis"), scalarOf(joint, "type")];
    return typeof name === "string" && (type === "linear" || type === "rotary") ? [[name, type]] : [];
  });
}

function scalarOf(node: TreeNode | undefined, name: string): Scalar | undefined {
  const value = valueOf(entryOf(node, name)?.value);
  return value?.kind === "scalar" ? value.value : undefined;
}
