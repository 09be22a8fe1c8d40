import type { NameKind } from "../../../core/schema/facts.ts";
import type { Proposal, Surroundings } from "./proposal.ts";

/** Names of a kind with where each is defined. Turntables are axes too. */
export function namesOf(kind: NameKind, around: Surroundings): readonly Proposal[] {
  const kinds: readonly NameKind[] = kind === "axis" ? ["axis", "turntable"] : [kind];
  return kinds.flatMap((each) =>
    around.names(each).map(({ name, from }): Proposal => ({ label: name, kind: "name", detail: `${each}, ${from}` })),
  );
}
