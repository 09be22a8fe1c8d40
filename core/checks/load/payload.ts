import type { Task } from "../../base/task.ts";
import { formatQuantity } from "../../base/units.ts";
import type { ResolvedOptics } from "../../lens/resolved-optics.ts";
import { carriedByHead } from "../../load/mass-points.ts";
import type { Check } from "../check.ts";
import type { Finding } from "../finding.ts";
import { LOAD_SLACK } from "../thresholds.ts";

/** `payload`: body, lens and attachments weigh more than the head may carry. */
export const payload: Check = {
  code: "payload",
  // eslint-disable-next-line require-yield -- A task like the costly ones, done at once.
  *run({ move: { rig, optics, uses } }): Task<readonly Finding[]> {
    if (!rig.payload) return [];
    const carried = carriedByHead(optics).filter(({ mass }) => 0 < mass);
    const mass = carried.reduce((sum, one) => sum + one.mass, 0);
    const { limit, origin } = rig.payload;
    if (mass <= limit + LOAD_SLACK) return [];
    return [
      {
        code: "payload",
        severity: "error",
        origin: uses.camera,
        related: [{ origin, note: "limit" }, ...massPlaces(optics)],
        measured: mass,
        limit,
        dimension: "mass",
        evidence: "exact",
        facts: { parts: carried.map((one) => `${one.name} ${formatQuantity(one.mass, "mass")}`).join(", ") },
      },
    ];
  },
};

/** Where the camera says what it weighs. */
function massPlaces({ bodyMassOrigin, lensMassOrigin, attachments }: ResolvedOptics): Finding["related"] {
  const origins = [bodyMassOrigin, lensMassOrigin, ...attachments.map(({ massOrigin }) => massOrigin)];
  return origins.flatMap((origin) => (origin ? [{ origin, note: "mass" as const }] : []));
}
