import type { Task } from "../../../core/base/task.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import { length, subtract } from "../../../core/base/vec3.ts";
import type { PlacedFinding, Segment } from "../../../core/checks/finding.ts";
import type { ResolvedMove } from "../../../core/motion/resolved-move.ts";
import { sampleTake } from "../../../core/motion/sample.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";
import { packTake } from "../../../protocol/codec.ts";
import type { StageFinding, StageMesh, StageProblem, StageTake } from "../../../protocol/stage.ts";
import { stageLens } from "./stage-lens.ts";
import { drawnBody } from "./stage-meshes.ts";
import type { Solved } from "../view.ts";

/** Samples a second for the stage: one a picture on most screens. Curves are smooth between them. */
const SAMPLES_PER_SECOND = 60;
const SAMPLES_FLOOR = 240;
const SAMPLES_CAP = 20_000;

/** Everything that the stage draws of a solved move. */
export function* stageTake(
  uri: string,
  version: number,
  solved: Solved,
  findings: readonly PlacedFinding[],
  files: readonly StageMesh[] = [],
): Task<StageTake> {
  const { move, trajectory, stale } = solved;
  const samples = yield* sampleTake(trajectory, sampleTimes(trajectory));
  return {
    uri,
    version,
    stale,
    title: move.title,
    rate: move.rate,
    startFrame: move.startFrame,
    duration: trajectory.duration,
    rig: { ...move.rig, bodies: move.rig.bodies.map(drawnBody) },
    base: move.base,
    optics: move.optics,
    deliver: move.deliver,
    axes: move.axes,
    targets: move.targets,
    turntables: move.turntables,
    obstacles: move.obstacles.map(drawnBody),
    people: move.people.map(drawnBody),
    dressing: (move.dressing ?? []).map(drawnBody),
    meshes: files.filter(({ file }) => file !== move.plate?.file),
    lens: yield* stageLens(trajectory, files),
    marks: move.marks.map(({ name, at }) => ({ name, at })),
    floor: move.floor,
    tolerance: move.tolerance,
    keys: move.keys.map(({ label, time }) => ({ label, time })),
    aims: aimsOf(trajectory, move, samples.t),
    findings: stageFindings(findings),
    ...(move.passes.length > 0 ? { passes: move.passes.length } : {}),
    samples: packTake(samples),
  };
}

/** In place of a take: why there is none. */
export function stageProblem(uri: string, version: number, findings: readonly PlacedFinding[]): StageProblem {
  const errors = findings.filter((finding) => finding.severity === "error");
  const first = errors[0]?.message;
  const more = errors.length > 1 ? ` There are ${errors.length - 1} more errors.` : "";
  const message = first ? `The move can't be solved yet. ${first}${more}` : "This document holds no move to show.";
  return { uri, version, message, findings: stageFindings(findings) };
}

function stageFindings(findings: readonly PlacedFinding[]): StageFinding[] {
  return findings.map(({ code, severity, message, axis, key, time, peak, segment, value, bodies }, id) => ({
    id,
    code,
    severity,
    message,
    axis,
    key,
    time,
    ...(peak === undefined ? {} : { peak }),
    ...(bodies ? { bodies } : {}),
    ...(segment ? { segment: { ...segment, label: wayWords(segment, value) } } : {}),
  }));
}

/** Evenly over the move, and every knot, so that keys and stops are hit exactly. Ascending. */
export function sampleTimes({ duration, knots }: Trajectory): Float64Array {
  const wanted = Math.ceil(duration * SAMPLES_PER_SECOND);
  const count = Math.max(SAMPLES_FLOOR, Math.min(SAMPLES_CAP, wanted));
  const even = Array.from({ length: count + 1 }, (_, idx) => (duration * idx) / count);
  return Float64Array.from(new Set([...even, ...knots])).sort();
}

/** Spans over which one target is aimed at; in a switch the second counts once it is the nearer of the two. */
/** `31 mm`, or `84 mm inside` where two things overlap by it. */
function wayWords({ from, to }: Segment, value: number | undefined): string {
  const way = formatQuantity(length(subtract(to, from)), "length");
  return value !== undefined && value < 0 ? `${way} inside` : way;
}

function aimsOf(trajectory: Trajectory, { targets }: ResolvedMove, times: Float64Array): StageTake["aims"] {
  const aims: { from: number; to: number; target: number }[] = [];
  const instant = trajectory.createInstant();
  for (const t of times) {
    trajectory.at(t, instant);
    const target = instant.aimBlend < 0.5 ? instant.aimFrom : instant.aimTo;
    const last = aims[aims.length - 1];
    if (last && last.target === target) last.to = t;
    else aims.push({ from: t, to: t, target });
  }
  return aims.filter(({ target }) => 0 <= target && target < targets.length);
}
