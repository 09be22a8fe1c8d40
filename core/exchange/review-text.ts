import { plainWords } from "../base/plain-words.ts";
import type { Line, OutlineBlock, OutlineSection, OutlineTable, ReviewOutline, Tone, Words } from "./review-outline.ts";

/** Colours words for a terminal, or leaves them. */
export type TonePaint = (tone: Tone, text: string) => string;

/** A review for a terminal. Text of documents stays on its line and can't steer the terminal. */
export function renderReviewText({ summary, moves, documents, notes }: ReviewOutline, paint: TonePaint): string {
  const sections = [...moves, ...documents].map((section) => sectionLines(section, paint).join("\n"));
  const said = notes.map((note) => paint("quiet", plainWords(`Note: ${note}.`)));
  return `${[lineText(summary, paint), ...sections, ...(said.length > 0 ? [said.join("\n")] : [])].join("\n\n")}\n`;
}

function sectionLines({ heading, blocks }: OutlineSection, paint: TonePaint): string[] {
  return [lineText(heading, paint), ...blocks.flatMap((block) => blockLines(block, paint).map((line) => `  ${line}`))];
}

function blockLines(block: OutlineBlock, paint: TonePaint): string[] {
  if (block.kind === "table") return tableLines(block, paint);
  if (block.kind === "lines") return block.lines.map((line) => lineText(line, paint));
  // A terminal can't fold: what stays as it was is counted, and `check` lists it.
  if (block.folded !== undefined) return [paint("quiet", plainWords(block.folded))];
  return block.items.map((line) => lineText(line, paint));
}

function tableLines({ head, rows }: OutlineTable, paint: TonePaint): string[] {
  const cells = [head.map((text): Line => [{ tone: "quiet", text }]), ...rows];
  const widths = head.map((_, column) => Math.max(...cells.map((row) => widthOf(row[column]))));
  return cells.map((row) =>
    row
      .map((cell, column) => lineText(cell, paint) + " ".repeat(widths[column] - widthOf(cell)))
      .join("  ")
      .trimEnd(),
  );
}

const lineText = (line: Line, paint: TonePaint): string => line.map((words) => paint(words.tone, bare(words))).join("");

const widthOf = (line: Line): number => line.reduce((sum, words) => sum + [...bare(words)].length, 0);

function bare({ tone, text }: Words): string {
  const shown = plainWords(text);
  return tone === "code" ? `\`${shown}\`` : shown;
}
