import type { FileId } from "../../../core/base/span.ts";
import type { Body } from "../../../core/rig/resolved-rig.ts";
import type { ResolvedMove } from "../../../core/motion/resolved-move.ts";

/** A body as it is sent to the stage, which has the mesh itself and needs no hull of it. */
export function drawnBody(body: Body): Body {
  if (body.solid.shape !== "mesh") return body;
  const { shape, file, scale } = body.solid;
  return { ...body, solid: { shape, file, scale } };
}

/** All files that the stage may ask for: those of meshes, and the plate's. */
export function stageFiles(move: ResolvedMove): readonly FileId[] {
  return [...meshesOf(move), ...(move.plate ? [move.plate.file] : [])];
}

/** Files of the meshes that the stage draws of a move, each once. */
export function meshesOf({ rig, obstacles, people, dressing = [] }: ResolvedMove): readonly FileId[] {
  const drawn = [...rig.bodies, ...obstacles, ...people, ...dressing].filter(({ only }) => only !== "clearance");
  return [...new Set(drawn.flatMap(({ solid }) => (solid.shape === "mesh" ? [solid.file] : [])))];
}
