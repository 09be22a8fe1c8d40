import { baseName, relativeReference } from "../../../core/base/path.ts";
import type { FileId, Span } from "../../../core/base/span.ts";
import { convertDialect, lineOf, obstacleOf, plainComments } from "../../../core/dialect/convert-dialect.ts";
import { applyEdits, type TextEdits } from "../../../core/edit/apply-edits.ts";
import { entryOf, type Comment } from "../../../core/syntax/tree.ts";
import type { View } from "../view.ts";
import type { NamedDocument } from "../names/written-names.ts";

const OTHER = { yaml: { word: "JSON", ending: ".json" }, json: { word: "YAML", ending: ".yaml" } } as const;
const ENDING = /\.(?:ya?ml|json)$/i;

/** A document in the other format, as it is offered: nothing is written for that. */
export interface FormatOffer {
  /** `Convert to JSON`. */
  readonly title: string;
  /** `JSON` or `YAML`. */
  readonly format: string;
  /** The file that it would be in. */
  readonly target: FileId;
  /** Why it cannot be converted, as a sentence without its full stop. */
  readonly refusal?: string;
  /** Comments that would get lost. */
  readonly lost: readonly Comment[];
}

/** What is made of a document and of those that name it. */
export interface FormatChange {
  readonly text: string;
  readonly lost: readonly Comment[];
  /** Edits of other documents, by file. */
  readonly references: ReadonlyMap<FileId, TextEdits>;
}

/** True on the first line of a text, and on the line that says which kind of document it is: there it is in nobody's way. */
export function isAtHead({ text, tree, kind }: View, { start }: Span): boolean {
  const line = lineOf(text, start);
  const version = entryOf(tree.root, kind);
  return line === 1 || (version !== undefined && lineOf(text, version.start) === line);
}

export function formatOffer({ file, text, tree }: View): FormatOffer {
  const { word, ending } = OTHER[tree.format];
  const refusal = obstacleOf(text, tree);
  return {
    title: `Convert to ${word}`,
    format: word,
    target: file.replace(ENDING, ending),
    ...(refusal === undefined ? {} : { refusal }),
    lost: tree.format === "yaml" ? plainComments(text, tree) : [],
  };
}

/**
 * The document in the other format, and the names of its file that others give, with the new ending.
 *
 * @param others Documents that may name it.
 * @param textOf Texts of those.
 */
export function formatChange(
  view: View,
  others: readonly NamedDocument[],
  textOf: (file: FileId) => string | undefined,
): FormatChange | { readonly refusal: string } {
  const { target } = formatOffer(view);
  const references = new Map<FileId, TextEdits>();
  let own: TextEdits = [];
  for (const { file, references: named } of others) {
    const text = file === view.file ? view.text : textOf(file);
    const spans = named.filter((one) => one.file === view.file).map(({ span }) => span);
    if (text === undefined || spans.length === 0) continue;
    const edits = spans.map((span) => ({ span, text: renamed(text, span, file, target) }));
    if (file === view.file) own = edits;
    else references.set(file, edits);
  }
  const text = applyEdits(view.text, own);
  const made = convertDialect(text, own.length > 0 ? view.parse(text) : view.tree);
  return "refusal" in made ? made : { ...made, references };
}

/** A name of the file with the new ending: as it is written, but for that. */
function renamed(text: string, { start, end }: Span, from: FileId, target: FileId): string {
  const written = text.slice(start, end);
  const ending = ENDING.exec(baseName(target))?.[0] ?? "";
  if (ENDING.test(written)) return written.replace(ENDING, ending);
  // Its characters are written as escapes.
  return JSON.stringify(relativeReference(from, target)).slice(1, -1);
}

/** Words of a comment that are shown in a title. */
const WORDS = 40;
/** Comments that are named in a title, and in a list. */
const TITLED = 2;
const LISTED = 40;

/** `5 comments ("Invented for this demo", "base to camera", ..)`. */
export function commentsInShort(lost: readonly Comment[]): string {
  const first = lost.slice(0, TITLED).map(({ text }) => `"${WORDS < text.length ? `${text.slice(0, WORDS)}…` : text}"`);
  const more = TITLED < lost.length ? ", …" : "";
  return `${lost.length} ${lost.length === 1 ? "comment" : "comments"} (${first.join(", ")}${more})`;
}

/** Each comment with its line. */
export function commentsInFull(text: string, lost: readonly Comment[]): string {
  const listed = lost.slice(0, LISTED).map((comment) => `line ${lineOf(text, comment.start)}: ${comment.text}`);
  const more = lost.length - listed.length;
  return [...listed, ...(more > 0 ? [`and ${more} more`] : [])].join("; ");
}
