import type { OriginId } from "../base/origin-id.ts";
import type { Place } from "../base/span.ts";

/** Origin ids to places in text. Id 0 has none. */
export interface OriginTable {
  place(origin: OriginId): Place | undefined;
}
