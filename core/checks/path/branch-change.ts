import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { pathCheck, pathNotes } from "./path-check.ts";
import { pathWord } from "./path-kind.ts";

/**
 * `branch-change`: a path that the rig could only follow by changing over to another way of standing, within it or at its
 * end; and camera keys that the motion comes to on another way of standing than the one that puts the pupil there.
 */
export const branchChange = pathCheck("branch-change", (context) => [
  ...pathFindings(context),
  ...keyFindings(context),
]);

function pathFindings({ move, trajectory }: CheckContext): Finding[] {
  return pathNotes(trajectory, "branch-change").map((note): Finding => {
    const key = move.keys[note.key];
    const axis = trajectory.axes[note.axis];
    const jumps = note.left !== note.right;
    return {
      code: "branch-change",
      severity: "error",
      origin: key.path?.origin || key.origin,
      related: [],
      key: key.label,
      ...(jumps && { axis: axis.name }),
      time: { from: note.from, to: note.to },
      peak: note.where === "at-end" ? note.to : note.from,
      ...(jumps && {
        measured: note.left,
        limit: note.right,
        dimension: axis.type === "linear" ? ("length" as const) : ("angle" as const),
      }),
      evidence: "bracketed",
      facts: { where: note.where, path: pathWord(key) },
    };
  });
}

function keyFindings({ move, trajectory }: CheckContext): Finding[] {
  return trajectory.keys.flatMap(({ branchMiss }, idx): Finding[] => {
    const key = move.keys[idx];
    if (branchMiss === undefined || trajectory.paths.some((note) => note.key === idx)) return [];
    return [
      {
        code: "branch-change",
        severity: "error",
        origin: key.camera?.origin || key.origin,
        related: [],
        key: key.label,
        time: { from: key.time, to: key.time },
        peak: key.time,
        measured: branchMiss,
        limit: 0,
        dimension: "length",
        evidence: "exact",
        facts: { where: "key" },
      },
    ];
  });
}
