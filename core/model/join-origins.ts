import { NO_ORIGIN, type OriginId } from "../base/origin-id.ts";
import type { Place } from "../base/span.ts";
import type { OriginTable } from "./origin-table.ts";

/** Origins of a document, and of others that it names: those get ids of their own, below 0. */
export interface JoinedOrigins extends OriginTable {
  /** An id here for an origin of another document's table. */
  join(table: OriginTable, origin: OriginId): OriginId;
}

/** @param own The document's own origins, of which none is below 0: it has no keys. */
export function joinOrigins(own: OriginTable): JoinedOrigins {
  const joined: Place[] = [];
  return {
    place: (origin) => (origin < 0 ? joined[-origin - 1] : own.place(origin)),
    join(table, origin) {
      const place = origin === NO_ORIGIN ? undefined : table.place(origin);
      return place ? -joined.push(place) : NO_ORIGIN;
    },
  };
}
