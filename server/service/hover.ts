import type { Span } from "../../core/base/span.ts";
import type { Task } from "../../core/base/task.ts";
import { pathAt, type Location } from "../../core/syntax/locate.ts";
import { namesOfView } from "./names/definition.ts";
import { fieldDoc } from "./field-doc.ts";
import { about } from "./hover/about.ts";
import type { Around } from "./hover/around.ts";
import { expectationAt, expectHover } from "./hover/expect-hover.ts";
import { fileHover } from "./hover/file-hover.ts";
import { returnHover } from "./hover/return-hover.ts";
import { segmentHover, SHAPING } from "./hover/segment-hover.ts";
import { keyAtOffset } from "./key-place.ts";
import { keyTable } from "./key-table.ts";
import { paragraphs } from "./markdown.ts";
import { fieldAt } from "./shape-walk.ts";
import type { View } from "./view.ts";

export interface Hover {
  /** Markdown; nothing of the user's text in it is markup. */
  readonly markdown: string;
  readonly span: Span;
}

/**
 * What is known at `offset`: the field, the name that stands there, and in a move all that holds at the key.
 *
 * @param slow Whether there is time for what has to be searched for: least distances, what is expected, the way back.
 */
export function* hoverAt(view: View, offset: number, around: Around, slow: boolean): Task<Hover | undefined> {
  const location = pathAt(view.tree, offset);
  const span = spanOf(location);
  if (!span || offset < span.start || span.end < offset) return undefined;
  const field = fieldAt(view.kind, pathOfField(location));
  const key = view.solved && keyAtOffset(view.solved, view.file, offset);
  const markdown = paragraphs([
    yield* about(view, location, around, slow),
    fileText(view, offset, around),
    key === undefined ? undefined : shapingText(view, location, key),
    slow ? yield* searchedText(view, location, offset) : undefined,
    field && `**${field.name}**: ${fieldDoc(field)}`,
    view.solved && key !== undefined ? keyTable(view.solved, key) : undefined,
  ]);
  return markdown === "" ? undefined : { markdown, span };
}

/** The name under the cursor, or the value. */
function spanOf({ entry, onName, node }: Location): Span | undefined {
  if (onName && entry) return entry.nameSpan;
  return node?.kind === "scalar" || node?.kind === "alias" ? node : undefined;
}

/** Items of lists belong to the field that holds the list. */
function pathOfField({ path }: Location): Location["path"] {
  let end = path.length;
  while (end > 0 && typeof path[end - 1] === "number") end -= 1;
  return path.slice(0, end);
}

/** The document that is named at `offset`. */
function fileText(view: View, offset: number, around: Around): string | undefined {
  const reference = namesOfView(view).references.find(({ span }) => span.start <= offset && offset <= span.end);
  return reference && fileHover(view, reference.file, around);
}

/** What `path`, `ease` and the like do to the way to their key. */
function shapingText({ kind, solved }: View, { path }: Location, key: number): string | undefined {
  const field = SHAPING.find((each) => each === path[2]);
  return kind === "move" && path[0] === "keys" && field && solved ? segmentHover(solved, key, field) : undefined;
}

function* searchedText(view: View, { path }: Location, offset: number): Task<string | undefined> {
  const { kind, solved } = view;
  if (kind !== "move" || !solved) return undefined;
  if (path[0] === "return") return yield* returnHover(view, solved);
  const expectation = path[0] === "expect" ? expectationAt(view, solved, offset) : undefined;
  return expectation && (yield* expectHover(solved, expectation));
}
