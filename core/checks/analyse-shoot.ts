import { RATES } from "../base/rate.ts";
import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import { joinOrigins } from "../model/join-origins.ts";
import type { OriginTable } from "../model/origin-table.ts";
import { brokenReference } from "../model/resolution.ts";
import type { MoveResolution } from "../model/resolve-move.ts";
import type { NamedMove, ResolvedShoot } from "../model/resolved-shoot.ts";
import type { Sources } from "../model/sources.ts";
import type { Analysis } from "./analysis.ts";
import { withCures } from "./cures.ts";
import type { Finding, PlacedFinding } from "./finding.ts";
import { judge } from "./judge.ts";
import { trimDocuments, type AnalysisMemo } from "./memo.ts";
import type { TimeNames } from "./message.ts";
import { namedMove } from "./named-move.ts";
import { placeFinding } from "./place-finding.ts";
import { SHOOT_CHECKS } from "./registry.ts";
import { internalError } from "./run-checks.ts";
import type { ShootContext, ShootMove } from "./shoot/shoot-check.ts";
import { solvedMove } from "./solve-move.ts";
import type { TextStep } from "./text-step.ts";

/** Findings of a shoot name no time, so that nothing is asked of these. */
const NO_TIMES: TimeNames = { rate: RATES["25"], startFrame: 0 };

/**
 * All that can be found about a shoot: its moves are resolved and solved, each as the memo knows it, and then looked at
 * together. A move that has errors of its own gives one finding where the shoot names it first.
 */
export function* analyseShoot(
  step: TextStep,
  shoot: ResolvedShoot,
  sources: Sources,
  memo: AnalysisMemo,
): Task<Analysis> {
  const { analysis, textFindings } = step;
  const { file } = analysis;
  const origins = joinOrigins(analysis.origins ?? { place: () => undefined });
  const inputs = new Set(analysis.inputs);
  const unread = new Set<FileId>();
  const moves = new Map<FileId, ShootMove>();
  const faults: PlacedFinding[] = [];
  for (const named of shoot.moves) {
    yield;
    const resolved = namedMove(named.file, sources, memo);
    resolved.inputs.forEach((each) => inputs.add(each));
    resolved.unread.forEach((each) => unread.add(each));
    if (resolved.unread.length > 0) continue;
    faults.push(...faultsOf(named, resolved, file, origins));
    if (!resolved.move) continue;
    const { move, trajectory, seen, findings } = yield* solvedMove(named.file, resolved.move, memo);
    if (!trajectory) {
      faults.push(...findings.map((one) => placeFinding({ ...one, origin: named.origin }, file, origins, NO_TIMES)));
      continue;
    }
    const table: OriginTable = resolved.origins;
    const rigFile = table.place(move.rig.origin)?.file ?? move.rig.name;
    const originOf: ShootMove["originOf"] = (origin) => origins.join(table, origin);
    moves.set(named.file, { file: named.file, move, trajectory, seen, rigFile, originOf });
  }
  trimDocuments(memo);
  const whole = { ...analysis, inputs: [...inputs], unread: [...unread] };
  if (unread.size > 0) return whole;
  const found = yield* runShootChecks({ shoot, moves });
  const placed = found.map((one) => withCures(placeFinding(one, file, origins, NO_TIMES), one, origins, sources, memo));
  return { ...whole, ...judge(step, [...textFindings, ...faults], placed) };
}

/** Runs all checks of a shoot. One that throws becomes one `internal-error`; the others run all the same. */
function* runShootChecks(context: ShootContext): Task<readonly Finding[]> {
  const out: Finding[] = [];
  for (const check of SHOOT_CHECKS) {
    try {
      out.push(...(yield* check.run(context)));
    } catch (error) {
      out.push(internalError(0, `The check ${check.code} of the shoot`, error));
    }
    yield;
  }
  return out;
}

/** What there is to say of a move where the shoot names it. */
function faultsOf(
  { reference, origin }: NamedMove,
  { move, problems }: MoveResolution,
  file: FileId,
  origins: OriginTable,
): PlacedFinding[] {
  const place = origins.place(origin) ?? { file, span: { start: 0, end: 0 } };
  const broken = brokenReference(reference, problems);
  if (broken) return [{ code: "missing-file", severity: "error", place, cures: [], ...broken }];
  if (move) return [];
  const message = `\`${reference}\` cannot be computed yet, so nothing of it is: ${problems[0]?.message ?? "it says too little."}`;
  return [{ code: "not-computed", severity: "warning", place, message, related: [], cures: [] }];
}
