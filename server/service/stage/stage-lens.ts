import type { Task } from "../../../core/base/task.ts";
import { checkContext } from "../../../core/checks/check-context.ts";
import { marginOf, needOf } from "../../../core/checks/optics/crop-margin.ts";
import { createSeen } from "../../../core/checks/seen.ts";
import type { ResolvedMove } from "../../../core/motion/resolved-move.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";
import type { StageMesh } from "../../../protocol/stage.ts";
import type { StageLens, StageMargin, StagePlate } from "../../../protocol/stage-lens.ts";

/** What the view through the lens shows beside the samples. `files` are those that the stage may ask for. */
export function* stageLens(trajectory: Trajectory, files: readonly StageMesh[]): Task<StageLens> {
  const margin = yield* stageMargin(trajectory);
  const plate = stagePlate(trajectory.move, files);
  return { ...(margin ? { margin } : {}), ...(plate ? { plate } : {}) };
}

/** As the check `crop-margin` reckons it; nothing where a move neither crops nor stabilises. */
function* stageMargin(trajectory: Trajectory): Task<StageMargin | undefined> {
  const margin = yield* marginOf(checkContext(trajectory, createSeen(), []));
  if (!margin) return undefined;
  return { ...margin, need: [needOf(margin, 0), needOf(margin, 1)] };
}

function stagePlate({ plate }: ResolvedMove, files: readonly StageMesh[]): StagePlate | undefined {
  if (!plate) return undefined;
  const { file, opacity, fills } = plate;
  const stamp = files.find((one) => one.file === file)?.stamp;
  return { file, opacity, fills, ...(stamp === undefined ? {} : { stamp }) };
}
