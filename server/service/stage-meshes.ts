import type { FileId } from "../../core/base/span.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";

/** Files of the meshes that the stage draws of a move, each once. */
export function meshesOf({ rig, obstacles, people }: ResolvedMove): readonly FileId[] {
  const drawn = [...rig.bodies, ...obstacles, ...people].filter(({ only }) => only !== "clearance");
  return [...new Set(drawn.flatMap(({ solid }) => (solid.shape === "mesh" ? [solid.file] : [])))];
}
