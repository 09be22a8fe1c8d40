import { leavesAt } from "../motion/key-timing.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Anchor } from "./anchor.ts";
import type { Finding } from "./finding.ts";

/**
 * What a message needs to ask for more time: the segment's keys, how long it takes and how long it would have to take.
 *
 * @param need By which factor its time would have to grow, from rest to rest.
 */
export function segmentFacts({ keys }: ResolvedMove, anchor: Anchor, need: number): Finding["facts"] {
  const [from, to] = [keys[anchor.from], keys[anchor.key]];
  // Within a hold there is no way that more time would slow.
  const segment = Math.max(0, to.time - leavesAt(from));
  return { segment, stretched: segment * need, fromKey: from.label, toKey: to.label };
}
