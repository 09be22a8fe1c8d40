import type { Task } from "../base/task.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import type { Check } from "./check.ts";
import { checkContext } from "./check-context.ts";
import type { Finding } from "./finding.ts";
import { gatherFindings } from "./gather.ts";
import { CHECKS } from "./registry.ts";
import { createSeen, type Seen } from "./seen.ts";
import { wayBackFindings } from "./way-back/way-back.ts";

/**
 * Runs all checks on one trajectory. A check that throws becomes one `internal-error`; the others run all the same.
 *
 * @param seen What was seen of the trajectory before an edit; what is seen of this one is added.
 */
export function* runChecks(
  trajectory: Trajectory,
  checks: readonly Check[] = CHECKS,
  seen: Seen = createSeen(),
): Task<readonly Finding[]> {
  const { move } = trajectory;
  const context = checkContext(trajectory, seen);
  const out: Finding[] = unsetFindings(trajectory);
  for (const check of checks) {
    try {
      out.push(...gatherFindings(yield* check.run(context)));
    } catch (error) {
      out.push(internalError(move.origin, `The check ${check.code}`, error));
    }
    yield;
  }
  try {
    out.push(...(yield* wayBackFindings(context, out)));
  } catch (error) {
    out.push(internalError(move.origin, "Checking the way back", error));
  }
  return out;
}

/** A part of the program failed; the finding names it, so that it can be reported. */
export function internalError(origin: number, part: string, error: unknown): Finding {
  return {
    code: "internal-error",
    severity: "error",
    origin,
    related: [],
    evidence: "exact",
    facts: { part, cause: error instanceof Error ? error.message : String(error) },
  };
}

/** `axis-unset`: driven axes that no key gives and nothing solves. */
function unsetFindings({ move, axes, unset }: Trajectory): Finding[] {
  return unset.map((axis) => ({
    code: "axis-unset",
    severity: "error",
    origin: move.keys[0]?.timeOrigin || move.keys[0]?.origin || move.origin,
    related: [{ origin: axes[axis].origins.self, note: "see" }],
    key: move.keys[0]?.label,
    axis: axes[axis].name,
    evidence: "exact",
    facts: {},
  }));
}
