import type { Vec3 } from "../core/base/vec3.ts";
import { add } from "../core/base/vec3.ts";
import { quatAbout, rotateByQuat } from "../core/base/quat.ts";
import { analyseText } from "../core/checks/analyse.ts";
import { nearestAllowed } from "../core/checks/axes/pose-findings.ts";
import type { ResolvedOptics } from "../core/lens/resolved-optics.ts";
import { documentKind } from "../core/model/document-kind.ts";
import { restValues } from "../core/motion/axis-values.ts";
import type { ResolvedMove } from "../core/motion/resolved-move.ts";
import { baseFrame, ownFrame, type BaseFrame } from "../core/rig/chain.ts";
import type { ResolvedRig } from "../core/rig/resolved-rig.ts";
import { findDocument, sourcesFor } from "./documents.ts";
import { Failure, type Outcome } from "./failure.ts";
import { isOutcome, readRig, textOf, unreadable } from "./rig-document.ts";

/** What a reach is solved in: a rig alone in its base's frame, or a move's rig where it stands in the set. */
export interface ReachScene {
  readonly frame: "base" | "set";
  readonly rig: ResolvedRig;
  readonly base: BaseFrame;
  /** Absent: the mount stands for the pupil. A zoom is at its short end. */
  readonly optics?: ResolvedOptics;
  /** Places in the set, turntables and what moves by itself as they are before the first key. */
  readonly targets: ReadonlyMap<string, Vec3>;
  /** Shape (joints,): the set-up, and the values to stay near [rad or m]. */
  readonly near: Float64Array;
  readonly up: Vec3;
}

/** Reads the RIG or MOVE of `movewright reach`; an outcome in its place for a document with errors. */
export function readScene(
  path: string,
  options: { readonly camera?: string; readonly lens?: string },
): ReachScene | Outcome {
  if (documentKind(path)?.kind !== "move") return rigScene(path, options);
  if (options.camera !== undefined || options.lens !== undefined) {
    throw new Failure("--camera and --lens belong to a rig document; a move names its own camera");
  }
  const given = findDocument(path, "move");
  const sources = sourcesFor([given]);
  const { move, textFindings } = analyseText(given.file, sources);
  if (!move) {
    const errors = textFindings.filter((finding) => finding.severity === "error");
    return unreadable(given, textOf(given, sources), errors);
  }
  return moveScene(move);
}

function rigScene(path: string, options: { readonly camera?: string; readonly lens?: string }): ReachScene | Outcome {
  const read = readRig(path, options);
  if (isOutcome(read)) return read;
  const { rig, optics } = read;
  const near = Float64Array.from(rig.joints, (joint) => (joint.type === "fixed" ? 0 : nearestAllowed(joint, 0)));
  return { frame: "base", rig, base: ownFrame(), optics, targets: new Map(), near, up: [0, 0, 1] };
}

function moveScene(move: ResolvedMove): ReachScene {
  const rest = restValues(move);
  const near = new Float64Array(move.rig.joints.length);
  move.axes.forEach(({ joint }, axis) => {
    if (0 <= joint) near[joint] = move.near[axis] ?? rest[axis];
  });
  const targets = move.targets.map(({ name, at, on }): [string, Vec3] => {
    const table = on === undefined ? undefined : move.turntables[on];
    if (!table) return [name, at];
    const axis = move.axes.findIndex(({ turntable }) => turntable === on);
    const first = move.keys.flatMap(({ axes }) => axes).find((given) => given.axis === axis);
    return [name, add(table.at, rotateByQuat(quatAbout(table.along, first?.value ?? rest[axis]), at))];
  });
  const { rig, optics, up } = move;
  return { frame: "set", rig, base: baseFrame(move.base), optics, targets: new Map(targets), near, up };
}
