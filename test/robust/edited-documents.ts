import type { Random } from "../fuzz/random.ts";
import { backTo, randomChanges } from "./random-changes.ts";
import type { Change } from "./robust-server.ts";

/** Documents that are edited at random, by their paths. */
export interface EditedDocuments {
  readonly texts: ReadonlyMap<string, string>;
  /** Some document and what an edit changes in it; at least one change. */
  next(): { readonly path: string; readonly before: string; readonly changes: readonly Change[] };
  /** Takes the text that an edit left. */
  put(path: string, text: string): void;
  /** Says whether that text is sound: one that is may be come back to. */
  judge(path: string, isSound: boolean): void;
}

/**
 * Moves are edited far more often than what they use. A broken document is mended before long, one that others use at once
 * as a rule: else most edits would be of texts of which nothing can be made.
 */
export function editDocuments(base: Readonly<Record<string, string>>, random: Random): EditedDocuments {
  const paths = Object.keys(base);
  const moves = paths.filter((path) => path.includes(".move."));
  const texts = new Map(Object.entries(base));
  const sound = new Map(Object.entries(base));
  const broken = new Set<string>();

  const choose = (): { readonly path: string; readonly changes: readonly Change[] } => {
    const used = [...broken].find((path) => !moves.includes(path));
    const isMended = used !== undefined && random.below(4) > 0;
    const path = isMended ? used : random.pick(random.below(8) === 0 ? paths : moves);
    const text = texts.get(path)!;
    const isBack = isMended || (broken.has(path) && random.below(2) === 0) || text.length < 40 || 9000 < text.length;
    return { path, changes: isBack ? backTo(text, sound.get(path)!) : randomChanges(text, random) };
  };

  return {
    texts,
    next() {
      for (;;) {
        const { path, changes } = choose();
        if (changes.length > 0) return { path, before: texts.get(path)!, changes };
      }
    },
    put: (path, text) => void texts.set(path, text),
    judge(path, isSound) {
      if (isSound) broken.delete(path);
      else broken.add(path);
      // As edits go on, texts grow strange without being broken: now and then the first one is what is gone back to.
      if (isSound) sound.set(path, random.below(4) === 0 ? base[path] : texts.get(path)!);
    },
  };
}
