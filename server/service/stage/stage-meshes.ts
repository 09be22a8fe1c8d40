import type { FileId } from "../../../core/base/span.ts";
import type { Body } from "../../../core/rig/resolved-rig.ts";
import type { ResolvedMove } from "../../../core/motion/resolved-move.ts";

/** A body as it is sent to the stage, which has the mesh itself and needs no hull of it. */
export function drawnBody(body: Body): Body {
  if (body.solid.shape !== "mesh") return body;
  const { shape, file, scale } = body.solid;
  return { ...body, solid: { shape, file, scale } };
}

/** Files of the meshes that the stage draws of a move, each once. */
export function meshesOf({ rig, obstacles, people }: ResolvedMove): readonly FileId[] {
  const drawn = [...rig.bodies, ...obstacles, ...people].filter(({ only }) => only !== "clearance");
  return [...new Set(drawn.flatMap(({ solid }) => (solid.shape === "mesh" ? [solid.file] : [])))];
}
