import { partsOfQuantity } from "../../base/quantities.ts";
import { sameData } from "../../base/same-data.ts";
import { passVariant } from "../../motion/pass-variant.ts";
import type { ResolvedMove, ResolvedPass } from "../../motion/resolved-move.ts";
import type { Finding } from "../finding.ts";
import { CLEARLY_WORSE } from "../thresholds.ts";

/** The move as one of its passes plays it, where that differs from the move itself. */
export interface Variant {
  /** The first pass that plays it. */
  readonly pass: ResolvedPass;
  readonly move: ResolvedMove;
}

/** Each distinct way in which passes play a move with targets off their places. None for passes that shift nothing that it uses. */
export function variantsOf(move: ResolvedMove): readonly Variant[] {
  const shifting = move.passes.filter(({ targets }) =>
    Object.values(targets).some((shift) => shift.some((by) => by !== 0)),
  );
  if (shifting.length === 0) return [];
  const used = usedTargets(move);
  const found: Variant[] = [];
  for (const pass of shifting) {
    const isUsed = Object.entries(pass.targets).some(([target]) => used.has(Number(target)));
    if (!isUsed || found.some((one) => sameData(one.pass.targets, pass.targets))) continue;
    found.push({ pass, move: passVariant(move, pass) });
  }
  return found;
}

/** Targets that the motion, the picture or the move's own tests hang on. */
function usedTargets({ keys, expectations = [] }: ResolvedMove): ReadonlySet<number> {
  const used = new Set<number>();
  for (const { aim, focus, camera, path } of keys) {
    if (aim?.kind === "target") used.add(aim.target);
    if (focus?.kind === "target") used.add(focus.target);
    if (camera?.kind === "offset") used.add(camera.from);
    if (path?.kind === "arc-about") used.add(path.target);
  }
  for (const { measure } of expectations) {
    if (partsOfQuantity(measure.quantity)[0] === "TARGET") used.add(measure.subject);
  }
  return used;
}

/**
 * What a pass has to say beyond what the move itself has: findings that the move does not have, or that are clearly worse.
 * Each names the pass and points at it; it stands where it would of the move.
 */
export function ofVariant(
  findings: readonly Finding[],
  told: readonly Finding[],
  { name, origin }: ResolvedPass,
): Finding[] {
  return findings
    .filter((finding) => !told.some((one) => isAlike(one, finding) && !isWorse(finding, one)))
    .map((finding) => ({
      ...finding,
      related: [...finding.related, { origin, note: "pass" as const }],
      facts: { ...finding.facts, inPass: name },
    }));
}

const isAlike = (a: Finding, b: Finding): boolean =>
  a.code === b.code &&
  a.origin === b.origin &&
  a.axis === b.axis &&
  a.key === b.key &&
  a.dimension === b.dimension &&
  // How passes repeat is told once a move, of the target at which they are worst.
  (a.code === "match" || a.facts.target === b.facts.target) &&
  // A limit that is broken at both ends of a range is broken in two ways.
  a.facts.side === b.facts.side &&
  a.facts.end === b.facts.end;

const breach = ({ measured = 0, limit = 0 }: Finding): number => Math.abs(measured - limit);

const isWorse = (finding: Finding, than: Finding): boolean => breach(finding) > CLEARLY_WORSE * breach(than);
