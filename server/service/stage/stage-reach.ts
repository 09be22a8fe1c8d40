import type { Task } from "../../../core/base/task.ts";
import { baseFrame, compileRig } from "../../../core/rig/chain.ts";
import { reachableRegion } from "../../../core/rig/reachable-region.ts";
import { packTable } from "../../../protocol/codec.ts";
import type { PackedNumbers } from "../../../protocol/stage.ts";
import type { ReachWish, StageReach } from "../../../protocol/stage-reach.ts";
import type { Solved } from "../view.ts";

/** The region that the pupil can reach with the base and what is set up before the take as they stand at its beginning. */
export function* stageReach(
  uri: string,
  version: number,
  { move, trajectory }: Pick<Solved, "move" | "trajectory">,
  wish: ReachWish,
): Task<StageReach> {
  const chain = compileRig(move.rig);
  const instant = trajectory.createInstant();
  trajectory.poseAt(0, instant);
  const standing = new Float64Array(chain.count);
  move.axes.forEach(({ joint }, axis) => {
    if (joint >= 0) standing[joint] = instant.value[axis];
  });
  const axes = [...chain.driven];
  if (axes.length === 0) return { uri, version, wish, problem: "The rig has no axis that moves in a take." };
  const problem = { chain, base: baseFrame(move.base), axes, standing, pupil: instant.pupil };
  const region = yield* reachableRegion(problem, wish.kind === "section" ? wish.height : undefined);
  const { step, open, heights } = region;
  const packed = (places: Float32Array): PackedNumbers => packTable(Float64Array.from(places), "f32");
  return {
    uri,
    version,
    wish,
    step,
    open,
    heights,
    triangles: packed(region.triangles),
    outline: packed(region.outline),
  };
}
