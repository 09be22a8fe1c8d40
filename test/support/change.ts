import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import { createMemo, type AnalysisMemo } from "../../core/checks/memo.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { Sources, SourceState } from "../../core/model/sources.ts";
import type { ReviewedSources } from "../../core/review/plan-review.ts";
import type { MoveReview, Review } from "../../core/review/review.ts";
import { reviewMove } from "../../core/review/review-move.ts";
import { reviewSide } from "../../core/review/review-side.ts";
import { reviewWorkspace } from "../../core/review/review-workspace.ts";

/** Files of one side of a change: texts, and bytes of what is no text. */
export type Files = ReadonlyMap<string, string | Uint8Array>;

const EXAMPLES = fileURLToPath(new URL("../../examples", import.meta.url));

/** The demo without its broken documents, by path from its folder. */
export function demoFiles(): Map<string, string | Uint8Array> {
  const entries = readdirSync(EXAMPLES, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return new Map(
    entries.flatMap((entry): [string, string | Uint8Array][] => {
      const full = path.join(entry.parentPath, entry.name);
      const file = path.relative(EXAMPLES, full).split(path.sep).join("/");
      if (file.startsWith("broken/")) return [];
      return [[file, /\.(yaml|json|urdf|md)$/.test(file) ? readFileSync(full, "utf8") : readFileSync(full)]];
    }),
  );
}

/** The same with other texts in some files, those of `undefined` gone. */
export function withFiles(files: Files, changes: Readonly<Record<string, string | undefined>>): Files {
  const out = new Map(files);
  for (const [file, text] of Object.entries(changes)) {
    if (text === undefined) out.delete(file);
    else out.set(file, text);
  }
  return out;
}

/** The same with one text for another in a file; it must stand there. */
export function replaced(files: Files, file: string, from: string, to: string): Files {
  const text = files.get(file);
  if (typeof text !== "string" || !text.includes(from)) throw new Error(`${file} does not have ${from}`);
  return withFiles(files, { [file]: text.replace(from, to) });
}

/** Files as core reads them; asked for a file that is no text, it gives its bytes. */
export function sourcesOf(files: Files): Sources {
  return {
    read(file): SourceState {
      const content = files.get(file);
      if (content === undefined) return { state: "missing" };
      if (typeof content === "string") return { state: "text", text: content };
      return { state: "bytes", size: content.length, stamp: `${content.length}`, content: () => content };
    },
  };
}

/** One side of a review of all documents among some files. */
export function sideOfFiles(files: Files, memo: AnalysisMemo = createMemo()): ReviewedSources {
  return { sources: sourcesOf(files), memo, documents: [...files.keys()].filter((file) => documentKind(file)) };
}

/**
 * What a change of files means.
 *
 * @param memos Of each side, kept by who reviews several changes, so that what is the same is solved once.
 */
export function reviewOfFiles(
  before: Files,
  after: Files,
  renames: Readonly<Record<string, string>> = {},
  memos: readonly [AnalysisMemo, AnalysisMemo] = [createMemo(), createMemo()],
): Review {
  const sides = [sideOfFiles(before, memos[0]), sideOfFiles(after, memos[1])] as const;
  return runToEnd(reviewWorkspace(...sides, new Map(Object.entries(renames))));
}

/** What a change does to one move that both sides have; a side may be used for several. */
export function reviewOfMove(file: FileId, before: ReviewedSources, after: ReviewedSources): MoveReview {
  const [was, is] = [before, after].map(({ sources, memo }) => runToEnd(reviewSide(file, sources, memo)));
  return runToEnd(reviewMove(was, is));
}
