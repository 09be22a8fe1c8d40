import { LIMIT_WORDS } from "../core/base/limits.ts";
import { trimmed } from "../core/base/units.ts";
import { timeName } from "../core/checks/message.ts";
import type { ResolvedMove } from "../core/motion/resolved-move.ts";
import type { RetimeAnswer } from "./retime-answer.ts";

const FIT_WORDS = { whole: "the whole move", segments: "every segment", fastest: "as fast as it goes" } as const;
const FIELD_WORDS = { at: "at", after: "after", hold: "hold", ramp: "ramp", switchRamp: "ramp of switch" } as const;

const seconds = (time: number): string => `${trimmed(time, 4)} s`;

/** The answer of `retime` for people. */
export function renderRetiming(path: string, answer: RetimeAnswer, move: ResolvedMove): string {
  const blocks = [[headline(path, answer), ...leastLines(answer)], keyLines(answer), bindingLines(answer, move)];
  return `${[...blocks, closing(answer)]
    .filter((lines) => 0 < lines.length)
    .map((lines) => lines.join("\n"))
    .join("\n\n")}\n`;
}

function headline(path: string, answer: RetimeAnswer): string {
  const { fit, factor, iterated, duration } = answer;
  const times = `${seconds(duration.before)} becomes ${seconds(duration.after)}`;
  const by = factor === undefined ? "" : ` (time times ${trimmed(factor, 4)}${iterated ? ", found by trials" : ""})`;
  return `${path}, ${FIT_WORDS[fit]}: ${times}${by}`;
}

function leastLines({ lowerBound, pathTime, duration }: RetimeAnswer): string[] {
  if (lowerBound === undefined || pathTime === undefined) return [];
  const times = (time: number): string => `${seconds(time)}, ${trimmed(time / lowerBound, 3)} times the bound`;
  const why =
    duration.after <= 1.01 * pathTime
      ? []
      : ["(keys say when places are passed; between them each axis goes its smoothest way, not its fastest)"];
  return [
    `lower bound, of speed and acceleration alone: ${seconds(lowerBound)}`,
    `this path within all limits: ${times(pathTime)}`,
    `as keys can say it: ${times(duration.after)}`,
    ...why,
  ];
}

function keyLines({ keys }: RetimeAnswer): string[] {
  const rows = keys.map(({ name, before, after, text }) => [
    name,
    seconds(before),
    seconds(after),
    text.map(({ field, before: was, after: is }) => `${FIELD_WORDS[field]}: ${was} -> ${is}`).join(", "),
  ]);
  return aligned([["key", "was", "becomes", "in the text"], ...rows]);
}

function bindingLines({ binding }: RetimeAnswer, move: ResolvedMove): string[] {
  if (binding.length === 0) return [];
  const rows = binding.map(({ axis, limit, share, time, key }) => [
    axis,
    LIMIT_WORDS[limit],
    `${trimmed(share * 100, 1)} %`,
    `${timeName(time, move)}, to ${key}`,
  ]);
  return aligned([["axis", "limit", "share", "when"], ...rows]);
}

function closing({ reason, untouched, written, keys, remaining }: RetimeAnswer): string[] {
  const isChanged = keys.some(({ text }) => 0 < text.length);
  const kept = untouched ? [`No limit asks for time on the way to ${untouched.join(", ")}: that time stays.`] : [];
  const left = remaining.length === 1 ? "1 error is left" : `${remaining.length} errors are left`;
  return [
    ...kept,
    ...(reason === undefined ? [] : [reason]),
    ...(0 < remaining.length ? [`${left} that these times do not cure.`] : []),
    written ? "Written." : isChanged ? "Nothing is written without --write." : "Nothing to write.",
  ];
}

function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column]))
      .join("  ")
      .trimEnd(),
  );
}
