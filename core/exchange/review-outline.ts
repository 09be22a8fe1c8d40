/**
 * How a word is shown: paths of files and fields as a `name`, names inside of a text as `code`, verdicts by their weight. What is
 * shown in colour says it in words too.
 */
export type Tone = "plain" | "name" | "code" | "strong" | "error" | "warning" | "good" | "quiet";

/** One run of words of one tone. Text of documents is in it as it is: whoever renders it escapes it. */
export interface Words {
  readonly tone: Tone;
  readonly text: string;
}

/** Words of one line, with their own blanks. */
export type Line = readonly Words[];

export interface OutlineTable {
  readonly kind: "table";
  readonly head: readonly string[];
  readonly rows: readonly (readonly Line[])[];
}

/** A table without its empty columns; none without rows. */
export function tableOf(head: readonly string[], rows: readonly (readonly Line[])[]): OutlineTable[] {
  if (rows.length === 0) return [];
  const isUsed = (column: number): boolean => rows.some((row) => row[column].some(({ text }) => text !== ""));
  const used = <T>(cells: readonly T[]): readonly T[] => cells.filter((_, column) => isUsed(column));
  return [{ kind: "table", head: used(head), rows: rows.map(used) }];
}

export interface OutlineList {
  readonly kind: "list";
  /** What a format that can fold hides behind these words; the items stand open where it is absent. */
  readonly folded?: string;
  readonly items: readonly Line[];
}

export interface OutlineLines {
  readonly kind: "lines";
  readonly lines: readonly Line[];
}

export type OutlineBlock = OutlineTable | OutlineList | OutlineLines;

/** What is told of one file, or of those of which there is little to tell. */
export interface OutlineSection {
  readonly heading: Line;
  readonly blocks: readonly OutlineBlock[];
}

/** A review as it is read, whatever the format: the summary first, then what is worst. */
export interface ReviewOutline {
  readonly summary: Line;
  readonly moves: readonly OutlineSection[];
  /** Rigs, cameras, sets, shoots and files that documents name. */
  readonly documents: readonly OutlineSection[];
  readonly notes: readonly string[];
}

export const plain = (text: string): Words => ({ tone: "plain", text });
export const named = (text: string): Words => ({ tone: "name", text });
export const coded = (text: string): Words => ({ tone: "code", text });
export const toned = (tone: Tone, text: string): Words => ({ tone, text });

/** A sentence whose names stand between backticks. */
export function sentence(message: string, tone: Tone = "plain"): Line {
  const parts = message.split(/(`[^`]+`)/);
  return parts
    .map((part, i) => (i % 2 === 1 ? coded(part.slice(1, -1)) : toned(tone, part)))
    .filter(({ text }) => text !== "");
}

/** Lines one behind the other with `joint` between them. */
export function joined(lines: readonly Line[], joint = ", "): Line {
  return lines.flatMap((line, i) => (i === 0 ? line : [plain(joint), ...line]));
}
