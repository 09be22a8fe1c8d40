import { formatQuantity } from "../../../core/base/units.ts";
import { code, paragraphs, plain } from "../markdown.ts";
import type { Solved } from "../view.ts";
import { STALE } from "./around.ts";

/** A pass of the move: how often it is taken, what stands elsewhere in it, and what only it has to say. */
export function passHover({ move, findings, stale }: Solved, name: string): string | undefined {
  const pass = move.passes.find((each) => each.name === name);
  if (!pass) return undefined;
  const shifts = Object.entries(pass.targets).map(([idx, shift]) => {
    const by = shift.map((value) => formatQuantity(value, "length")).join(", ");
    return `${code(move.targets[Number(idx)].name)} is off its place by [${by}]`;
  });
  const own = findings.filter((each) => each.pass === name).map(({ message }) => `- ${plain(message)}`);
  return paragraphs([
    `${code(name)}: taken ${pass.times === 1 ? "once" : `${pass.times} times`}; ${shifts.length === 0 ? "all targets are at their places" : shifts.join("; ")}.`,
    stale ? STALE : undefined,
    own.length === 0 ? "No finding is of this pass alone." : own.join("\n"),
  ]);
}
