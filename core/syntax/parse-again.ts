import { changedRange } from "../base/changed-range.ts";
import { MAX_TEXT, MAX_TOKENS } from "./caps.ts";
import { readConflict } from "./conflict.ts";
import { againInJson } from "./json-again.ts";
import type { Tree } from "./tree.ts";
import { againInYaml } from "./yaml-again.ts";

/** A text with its tree. */
export interface ParsedText {
  readonly text: string;
  readonly tree: Tree;
}

/** A tree that was made from an earlier one, of which most parts are taken over. */
export interface Again {
  readonly tree: Tree;
  /** Items and fields that were parsed. */
  readonly parsed: number;
  /**
   * Where an item of the list in a field of the root stood in the earlier list, when neither it nor its text changed;
   * its place may have moved.
   */
  earlier(field: string, index: number): number | undefined;
}

/**
 * The tree of `text` from that of a text which differs in one stretch: only the list items or the fields of the root around
 * the stretch are parsed. Always deep-equal to what `parseTree` gives; `undefined` where it must be asked, because the
 * stretch cannot be looked at alone.
 */
export function parseAgain(before: ParsedText, text: string, format: "yaml" | "json"): Again | undefined {
  if (before.tree.format !== format || !isSound(before.tree) || text.length > Math.min(MAX_TEXT, MAX_TOKENS)) {
    return undefined;
  }
  const change = changedRange(before.text, text);
  if (readConflict(text)) return undefined;
  return format === "json" ? againInJson(before, text, change) : againInYaml(before, text, change);
}

/** True for a tree that another can be made from: its text is well formed. */
export const isSound = ({ problems }: Tree): boolean => problems.every(({ code }) => code === "duplicate-name");
