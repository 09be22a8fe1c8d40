import type { CatalogueRow } from "./row.ts";

/** What a move says of itself. */
export const OWN_ROWS = {
  expect: {
    title: "The move's own test fails",
    doc: "What an `expect` of the move says of an axis, the camera or a target does not hold in the time that it speaks of.",
    cure: "Change the keys that the quantity hangs on, or what is expected.",
    severity: "error",
  },
  allow: {
    title: "An allow that does not count",
    doc: "An `allow` names no reason, names no known code, or allows nothing that is found.",
    cure: "Write the reason, or remove the allow.",
    severity: "warning",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
