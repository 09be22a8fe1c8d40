import { byteLength } from "./cut-rows.ts";
import { markdownCode, markdownText } from "./markdown-text.ts";
import type { Line, OutlineBlock, OutlineSection, OutlineTable, ReviewOutline, Words } from "./review-outline.ts";

/** Bytes that hosts take of a summary are 1 MiB; of a comment some take less, and are told so. */
const MOST_BYTES = 1_000_000;

/**
 * A review as Markdown (GFM) for a pull request. Sections that don't fit into `most` bytes are counted. Text of documents is
 * words there: no markup, no mention, no reference, no link.
 */
export function renderReviewMarkdown(outline: ReviewOutline, most = MOST_BYTES): string {
  const { summary, moves, documents, notes } = outline;
  const end = [...notes.map((note) => `> ${markdownText(note)}.`), ...(notes.length > 0 ? [""] : []), CAUTION].join(
    "\n",
  );
  const sections = [...moves, ...documents].map(sectionMarkdown);
  const kept: string[] = [];
  let room = most - byteLength(end) - 1_000;
  for (const section of sections) {
    room -= byteLength(section) + 2;
    if (room < 0) break;
    kept.push(section);
  }
  const left = sections.length - kept.length;
  const more = left === 0 ? [] : [`… and ${left} more, which don't fit here.`];
  return `${[`## Movewright: ${lineMarkdown(summary)}`, ...kept, ...more, end].join("\n\n")}\n`;
}

const CAUTION = "_A change without findings isn't one that is safe: it is arithmetic on what the documents say._";

function sectionMarkdown({ heading, blocks }: OutlineSection): string {
  return [`### ${lineMarkdown(heading)}`, ...blocks.map(blockMarkdown)].join("\n\n");
}

function blockMarkdown(block: OutlineBlock): string {
  if (block.kind === "table") return tableMarkdown(block);
  if (block.kind === "lines") return block.lines.map(lineMarkdown).join("  \n");
  const items = block.items.map((line) => `- ${lineMarkdown(line)}`).join("\n");
  if (block.folded === undefined) return items;
  return `<details><summary>${markdownText(block.folded)}</summary>\n\n${items}\n\n</details>`;
}

function tableMarkdown({ head, rows }: OutlineTable): string {
  const row = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [row(head), row(head.map(() => ":--")), ...rows.map((cells) => row(cells.map(lineMarkdown)))].join("\n");
}

const lineMarkdown = (line: Line): string => line.map(wordsMarkdown).join("").trim();

function wordsMarkdown({ tone, text }: Words): string {
  switch (tone) {
    case "name":
    case "code":
      return markdownCode(text);
    case "error":
      return `❌ **${markdownText(text)}**`;
    case "warning":
      return `⚠️ **${markdownText(text)}**`;
    case "strong":
      return `**${markdownText(text.trim())}**`.padStart(
        text.startsWith(" ") ? markdownText(text.trim()).length + 5 : 0,
      );
    case "plain":
    case "good":
    case "quiet":
      return markdownText(text);
  }
}
