import { entryOf } from "../syntax/tree.ts";
import { contested, type Element } from "./element.ts";
import type { Row } from "./match-rows.ts";
import type { Part } from "./part.ts";
import type { Rows } from "./run.ts";

/**
 * Items that one side took away while the other counted a time from them: a key with `after` that it added or timed anew
 * behind them would come at another time. They come back as conflicts.
 */
export function withLeanedOn(all: Rows, made: readonly (Element | undefined)[]): readonly (Element | undefined)[] {
  const out = [...made];
  for (const side of ["ours", "theirs"] as const) {
    const ids = new Map(all.rows.map((row, id) => [row[side], id]));
    const order = all[side].parts.map((part) => ids.get(part) ?? -1);
    order.forEach((id, at) => {
      if (id < 0 || !isCountedAnew(all.rows[id], all.rows[id][side])) return;
      for (let i = at - 1; 0 <= i && order[i] >= 0 && !made[order[i]]; i--) {
        out[order[i]] = contested(all.rows[order[i]], order[i], all.place);
      }
    });
  }
  return out;
}

/** True for an item whose time counts from the one before, if its side added it or changed that. */
function isCountedAnew({ base }: Row, part: Part | undefined): boolean {
  const after = entryOf(part?.node, "after");
  if (!part || !after) return false;
  const was = entryOf(base?.node, "after");
  return !base || !was || textOf(base, was) !== textOf(part, after);
}

const textOf = ({ side }: Part, { start, end }: { readonly start: number; readonly end: number }): string =>
  side.text.slice(start, end);
